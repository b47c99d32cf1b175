"""Kit from TOML."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.exchange.kit import read_kit
from models.light.kit import Flash, Trigger
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
        (GOOD + 'brand = "none"', "trigger 1: does not know brand; it knows channels, id, name, passes_hss, sync_s"),
    ],
)
def test_bad_kit_is_named(tmp_path: Path, text: str, message: str) -> None:
    with pytest.raises(InputProblem) as raised:
        read_kit(written(tmp_path, text))
    assert message in str(raised.value)


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(InputProblem, match="file: cannot be read"):
        read_kit(tmp_path / "none.toml")
