"""Kit from TOML."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.exchange.kit import read_kit, write_kit
from models.light.accessories import HeatRow
from models.light.kit import Flash, Kit, Trigger
from models.planning.demo import HAVENMARK
from models.problems import InputProblem

GOOD = """
[[flash]]
id = "small"
name = "small flash"
guide_numbers = [[24, 20], [50, 27.5]]
lowest_power = "1/64"

[[trigger]]
id = "radio"
name = "radio"
sync_s = "1/160"
"""


def written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "kit.toml"
    path.write_text(text, "utf-8")
    return path


def test_fractions_and_pairs(tmp_path: Path) -> None:
    kit = read_kit(written(tmp_path, GOOD))
    assert kit.flashes == (Flash("small", "small flash", ((24, 20), (50, 27.5)), lowest_power=1 / 64),)
    assert kit.triggers == (Trigger("radio", "radio", sync_s=1 / 160),)
    assert kit.modifiers == kit.cameras == kit.batteries == ()


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("[[flash", "file: is not TOML"),
        ('flash = "small"', "flash: write"),
        ("flash = [3]", "flash 1: 3 is not a table of values"),
        ('[[flash]]\nid = "a"', "flash 1: lacks a value"),
        (GOOD.replace("20", "-20"), "flash 1: guide_numbers: must be a number above zero"),
        (GOOD.replace('"1/160"', '"fast"'), "trigger 1: lacks a value, or has text where a number belongs"),
        (GOOD.replace('"1/160"', '"1/0"'), "trigger 1: lacks a value, or has text where a number belongs"),
        (GOOD.replace('"1/64"', '"1/64"\nheat = 3'), "flash 1: heat: write a list of"),
        (GOOD.replace('"1/64"', '"1/64"\nheat = [{ flashes = 3 }]'), "flash 1: lacks a value"),
        (GOOD.replace('"1/64"', '"1/64"\nrungs_per_stop = 9'), "flash 1: rungs_per_stop: a ladder has"),
        (GOOD + 'brand = "none"', "trigger 1: does not know brand; it knows channels, id, name, passes_hss, sync_s"),
    ],
)
def test_bad_kit_is_named(tmp_path: Path, text: str, message: str) -> None:
    with pytest.raises(InputProblem) as raised:
        read_kit(written(tmp_path, text))
    assert message in str(raised.value)


SHEETS = """
[[flash]]
id = "hot"
name = "hot \\"flash\\""
guide_numbers = [[24, 20]]
heat = [{ from_power = 1, to_power = "1/2", flashes = 15, rest_s = 600 }]
rungs_per_stop = 1

[[modifier]]
id = "strip"
name = "strip"
kind = "box"
loss_stops = 2.3
face_m = [0.3, 0.9]

[[gel]]
id = "half"
name = "1/2 orange"
loss_stops = 0.5
shift_mired = 109

[[filter]]
id = "nd"
name = "three"
stops = 3

[[stand]]
id = "tall"
name = "tall"
highest_m = 2.6
"""


def test_data_sheets_and_accessories(tmp_path: Path) -> None:
    kit = read_kit(written(tmp_path, SHEETS))
    assert kit.flashes[0].heat == (HeatRow(1, 0.5, 15, 600),)
    assert (kit.modifiers[0].face_m, kit.gels[0].shift_mired) == ((0.3, 0.9), 109)
    assert (kit.filters[0].stops, kit.stands[0].highest_m) == (3, 2.6)


@pytest.mark.parametrize("text", [GOOD, SHEETS, "", (HAVENMARK / "kit.toml").read_text("utf-8")])
def test_what_is_written_is_read_back(tmp_path: Path, text: str) -> None:
    kit = read_kit(written(tmp_path, text))
    assert read_kit(written(tmp_path, write_kit(kit))) == kit


@pytest.mark.parametrize("name", ['\x7f\t"\\', "ü\u2028<b>", "a = 1\n[[flash]]"])
def test_odd_names_are_written_as_text(tmp_path: Path, name: str) -> None:
    kit = Kit((), (), (), (Trigger("t", name),), ())
    assert read_kit(written(tmp_path, write_kit(kit))) == kit


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(InputProblem, match="file: cannot be read"):
        read_kit(tmp_path / "none.toml")
