"""Guide-number arithmetic of handbooks and teaching pages (ISO 1230:2007 for the guide number), row by row as in
data/flash.csv, whose source column says where each was seen.

Tolerances: those of the rows, 0.5 % for arithmetic, 1 % for flash against ambient (rounded rows), 15 K for gels.
"""

from __future__ import annotations

from dataclasses import replace
from math import log2, sqrt

import pytest

from models.light.battery import ALKALINE_FACTOR, FULL_FLASHES, RECYCLE_FULL_S
from models.light.exposure import EvFigure
from models.light.flash import Camera, Choice, Flash, Modifier, capacity_ev, reserve, working_aperture
from models.light.gels import kelvin_through
from models.light.power import Power, rung
from models.light.ways_out import DIFFUSER_STOPS, FASTEST_SYNC_S
from models.units import METRES_PER_FOOT, illuminance_from_ev100
from tests.authorities.light_rows import given, rows, table, wanted
from tests.models.light.setups import START_OFF_LADDER

PARTS_PER = 0.005


def by_id(row: dict[str, str]) -> str:
    return row["id"]


@pytest.mark.parametrize("row", rows("flash.csv", "aperture from guide number"), ids=by_id)
def test_working_aperture(row: dict[str, str]) -> None:
    asked = given(row)
    metres = METRES_PER_FOOT if "ft" in row["inputs"] else 1.0
    found = working_aperture(asked["GN"] * metres, asked["d"] * metres, iso=asked["ISO"])
    assert found == pytest.approx(wanted(row)[0], rel=PARTS_PER)


@pytest.mark.parametrize("row", rows("flash.csv", "GN at ISO"), ids=by_id)
def test_guide_number_at_another_iso(row: dict[str, str]) -> None:
    assert working_aperture(given(row)["GN100"], 1, iso=given(row)["ISO"]) == approx(row)


@pytest.mark.parametrize("row", rows("flash.csv", "GN at power"), ids=by_id)
def test_guide_number_at_part_power(row: dict[str, str]) -> None:
    assert working_aperture(given(row)["GN"], 1, power=given(row)["power"]) == approx(row)


@pytest.mark.parametrize("row", rows("flash.csv", "GN of several units"), ids=by_id)
def test_guide_number_of_several_units(row: dict[str, str]) -> None:
    assert working_aperture(given(row)["GN"], 1, units=int(given(row)["n"])) == approx(row)


@pytest.mark.parametrize("row", rows("flash.csv", "gain of several units"), ids=by_id)
def test_gain_of_several_units(row: dict[str, str]) -> None:
    one = street_choice(40, 1 / 200, 2)
    more = replace(one, units=int(given(row)["n"]))
    assert capacity_ev(more)[0] - capacity_ev(one)[0] == approx(row)


@pytest.mark.parametrize("row", rows("flash.csv", "GN with loss"), ids=by_id)
def test_guide_number_with_loss(row: dict[str, str]) -> None:
    assert working_aperture(given(row)["GN"], 1, loss_stops=given(row)["loss_stops"]) == approx(row)


@pytest.mark.parametrize("row", rows("flash.csv", "GN metric to imperial"), ids=by_id)
def test_guide_number_in_feet(row: dict[str, str]) -> None:
    assert given(row)["GN"] / METRES_PER_FOOT == approx(row)


@pytest.mark.parametrize(("row", "ratio"), list(zip(rows("flash.csv", "inverse square"), (2, sqrt(2)), strict=True)))
def test_inverse_square(row: dict[str, str], ratio: float) -> None:
    near, far = street_choice(40, 1 / 200, 2), street_choice(40, 1 / 200, 2 * ratio)
    assert capacity_ev(far)[0] - capacity_ev(near)[0] == approx(row)


def test_axial_light_output() -> None:
    """What the capacity says in lux, times the shutter time and the square of the distance, is the flash's cd s."""
    (row,) = rows("flash.csv", "axial light output")
    choice = street_choice(given(row)["GN"], 1 / 200, 3)
    lux = illuminance_from_ev100(capacity_ev(choice)[0])
    assert lux * choice.camera.sync_s * choice.distance_m**2 == approx(row)


def test_flash_distance() -> None:
    (row,) = rows("flash.csv", "flash distance")
    assert working_aperture(given(row)["GN"], wanted(row)[0]) == pytest.approx(given(row)["f"], rel=PARTS_PER)


@pytest.mark.parametrize("row", rows("flash.csv", "flash-to-ambient"), ids=by_id)
def test_flash_against_ambient(row: dict[str, str]) -> None:
    """At the distance of the row nothing is in hand over an ambient s stops under; the aperture is the row's."""
    asked, (aperture, distance_m) = given(row), wanted(row)
    choice = street_choice(asked["GN100"], asked["sync"], distance_m, asked["loss_stops"], asked["s"])
    found = reserve(choice, EvFigure(asked["EV100"]), None)
    assert found.stops == pytest.approx(0, abs=2 * log2(1.01))
    lit = working_aperture(asked["GN100"], distance_m, loss_stops=asked["loss_stops"] + asked["s"])
    assert lit == pytest.approx(aperture, rel=0.01)


def test_power_ladder() -> None:
    (row,) = [row for row in table("flash.csv") if row["id"] == "fl-065"]
    assert row["value"] == "22 steps"
    rungs = [rung(Power(2 ** (-k / 3), START_OFF_LADDER)) for k in range(22)]
    assert [found.fraction for found in rungs] == pytest.approx([2 ** (-k / 3) for k in range(22)])
    assert [found.words for found in rungs[::3]] == ["1/1", "1/2", "1/4", "1/8", "1/16", "1/32", "1/64", "1/128"]


@pytest.mark.parametrize("row", rows("flash.csv", "colour temperature after gel"), ids=by_id)
def test_colour_temperature_behind_a_gel(row: dict[str, str]) -> None:
    assert kelvin_through(given(row)["T"], given(row)["shift"]) == pytest.approx(wanted(row)[0], abs=15)


def test_planning_figures_lie_in_their_published_ranges() -> None:
    practice = {row["id"]: row["value"] for row in table("flash.csv") if row["kind"] == "practice"}
    assert practice["fl-085"] == "100..200"
    assert 100 <= FULL_FLASHES <= 200
    assert practice["fl-086"] == "2.9 / 5.0"
    assert pytest.approx(2.9) == RECYCLE_FULL_S
    assert pytest.approx(5.0) == RECYCLE_FULL_S * ALKALINE_FACTOR
    assert practice["fl-075"] == "1..2"
    assert 1 <= DIFFUSER_STOPS <= 2
    assert practice["fl-066"].endswith("1/160..1/250 range")
    assert 1 / 250 <= FASTEST_SYNC_S <= 1 / 160


def approx(row: dict[str, str]) -> object:
    return pytest.approx(wanted(row)[0], rel=PARTS_PER)


def street_choice(
    guide_number_m: float, sync_s: float, distance_m: float, loss_stops: float = 0.0, under: float = 0.0
) -> Choice:
    flash = Flash("f", "flash", ((35, guide_number_m),), measured=True, clean_sync_s=1 / 1000)
    modifier = Modifier("m", "modifier", "box", loss_stops, 35)
    camera = Camera("c", "camera", sync_s)
    return Choice(flash=flash, camera=camera, modifier=modifier, distance_m=distance_m, surroundings_under=under)
