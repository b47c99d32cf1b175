"""Whole setups against the arithmetic of handbooks and makers' manuals: rows of data/flash.csv, exposure.csv and
setups.csv, whose source columns say where each was seen, and Euclid for beams.

Tolerances: 0.5 % for arithmetic on the rows, 0.1 degree for printed angles of view, exact where nothing is rounded.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from fractions import Fraction
from itertools import pairwise
from math import log2, sqrt

import pytest

from models.light.beam import beam_diameter_m, zoom_angle_deg
from models.light.exposure import Settings
from models.light.gels import GELS, kelvin_through
from models.light.heat import Fired, flashes_in_a_row, level, wait_s
from models.light.kit import Camera, Flash, HeatRow, guide_numbers_m
from models.light.measuring import FlashReading, metered_flash
from models.light.power import Power, rung
from models.light.setup import Light, Setup, distance_at_working_aperture_m, light_figures, setup_figures
from models.units import METRES_PER_FOOT
from tests.authorities.light_rows import given, rows, table, wanted

PARTS_PER = 0.005
CAMERA = Camera("c", "camera")


def by_id(row: dict[str, str]) -> str:
    return row["id"]


def flash(guide_number_m: float) -> Flash:
    return Flash("f", "flash", ((35, guide_number_m),), measured=True)


def setup(*lights: Light, aperture: float = 5.6, iso: float = 100) -> Setup:
    return Setup(lights=lights, camera=CAMERA, settings=Settings(1 / 125, aperture, iso))


def key(guide_number_m: float, distance_m: float, **changes: object) -> Light:
    one = Light(role="key", flash=flash(guide_number_m), distance_m=distance_m, height_m=1.5, power=1.0)
    return replace(one, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize("row", rows("flash.csv", "aperture from guide number"), ids=by_id)
def test_aperture_at_the_subject_and_the_reading_it_came_from(row: dict[str, str]) -> None:
    asked, (aperture,) = given(row), wanted(row)
    unit = "ft" if "ft" in row["inputs"] else "m"
    ((_, number_m),) = guide_numbers_m([(35, asked["GN"])], unit)
    metres = asked["d"] * (METRES_PER_FOOT if unit == "ft" else 1.0)
    assert light_figures(key(number_m, metres), setup(key(1, 1))).aperture == pytest.approx(aperture, rel=PARTS_PER)
    reading = FlashReading(flash_id="f", on=date(2026, 5, 1), distance_m=metres, aperture=aperture)
    assert metered_flash(flash(1), [reading]).guide_numbers[0][1] == pytest.approx(number_m, rel=PARTS_PER)


@pytest.mark.parametrize("row", rows("flash.csv", "GN at ISO"), ids=by_id)
def test_iso(row: dict[str, str]) -> None:
    there = setup(key(given(row)["GN100"], 1), iso=given(row)["ISO"])
    assert light_figures(there.lights[0], there).aperture == pytest.approx(wanted(row)[0], rel=PARTS_PER)


@pytest.mark.parametrize("row", rows("flash.csv", "GN at power"), ids=by_id)
def test_power(row: dict[str, str]) -> None:
    there = setup(key(given(row)["GN"], 1, power=given(row)["power"]))
    assert light_figures(there.lights[0], there).aperture == pytest.approx(wanted(row)[0], rel=PARTS_PER)


@pytest.mark.parametrize("row", rows("flash.csv", "GN of several units"), ids=by_id)
def test_ganging(row: dict[str, str]) -> None:
    there = setup(key(given(row)["GN"], 1, units=int(given(row)["n"])))
    assert light_figures(there.lights[0], there).guide.metres == pytest.approx(wanted(row)[0], rel=PARTS_PER)


def test_the_gain_of_three() -> None:
    (row,) = rows("flash.csv", "gain of several units")
    one, three = (setup(key(20, 2, units=units)) for units in (1, int(given(row)["n"])))
    apertures = [light_figures(each.lights[0], each).aperture for each in (one, three)]
    assert 2 * log2(apertures[1] / apertures[0]) == pytest.approx(wanted(row)[0], rel=PARTS_PER)


@pytest.mark.parametrize("row", rows("flash.csv", "inverse square"), ids=by_id)
def test_inverse_square(row: dict[str, str]) -> None:
    near_m, far_m = map(float, re.findall(r"[\d.]+", row["inputs"]))
    near, far = (light_figures(key(20, metres), setup(key(20, 1))).over_stops for metres in (near_m, far_m))
    assert near is not None
    assert far is not None
    assert far - near == pytest.approx(wanted(row)[0], rel=PARTS_PER)


def test_flash_distance() -> None:
    (row,) = rows("flash.csv", "flash distance")
    there = setup(key(given(row)["GN"], 1), aperture=given(row)["f"])
    assert distance_at_working_aperture_m(there.lights[0], there) == pytest.approx(wanted(row)[0], rel=PARTS_PER)


@pytest.mark.parametrize("row", rows("setups.csv", "lighting ratio"), ids=by_id)
def test_lighting_ratios(row: dict[str, str]) -> None:
    over = given(row)["key_over_fill"]
    found = setup_figures(setup(key(20, 2), key(20, 2, role="fill", power=2**-over)))
    assert found.key_fill is not None
    assert found.face is not None
    assert found.key_fill.stops == pytest.approx(over, abs=1e-9)
    assert found.face.to_one == pytest.approx(wanted(row)[0])


@pytest.mark.parametrize("row", rows("setups.csv", "angle of view"), ids=by_id)
def test_angles_of_view(row: dict[str, str]) -> None:
    zoom_mm = given(row)["f"]
    found = [zoom_angle_deg(zoom_mm, side) for side in ("diagonal", "long", "short")]
    assert found == pytest.approx(wanted(row), abs=0.1)


@pytest.mark.parametrize(
    ("angle_deg", "of_its_distance"), [(90, 2), (60, 2 / sqrt(3)), (120, 2 * sqrt(3)), (53.130102, 1), (28.072487, 0.5)]
)
def test_beams_by_euclid(angle_deg: float, of_its_distance: float) -> None:
    """2 tan(A/2): right angle, equilateral triangle, and 2 atan(1/2), 2 atan(1/4)."""
    assert beam_diameter_m(angle_deg, 3) == pytest.approx(3 * of_its_distance, rel=1e-6)


def test_the_ladder_in_guide_numbers() -> None:
    """Row fl-065: p = 2^(-k/3) for k = 0 to 21, the guide number falls by 2^(-k/6)."""
    (row,) = [row for row in table("flash.csv") if row["id"] == "fl-065"]
    assert "GN factor 2^(-k/6)" in row["inputs"]
    there = setup(key(36, 1))
    for k in range(22):
        found = rung(Power(2 ** (-k / 3), there.settings))
        light = key(36, 1, power=found.fraction)
        assert light_figures(light, there).aperture == pytest.approx(36 * 2 ** (-k / 6), rel=PARTS_PER)


@pytest.mark.parametrize(("series", "of_a_stop"), [("aperture", 2.0), ("shutter", 1.0), ("iso", 1.0)])
def test_a_rung_is_a_step_of_the_dials(series: str, of_a_stop: float) -> None:
    """One rung of power undoes one step of each dial as data/table_exposure_series.csv gives their exact values."""
    exact = [float(row["exact"]) for row in table("table_exposure_series.csv") if row["series"] == series]
    assert len(exact) > 20
    a_rung = log2(rung(Power(1.0, Settings(1, 1, 100))).fraction / rung(Power(0.8, Settings(1, 1, 100))).fraction)
    steps = [of_a_stop * abs(log2(after / before)) for before, after in pairwise(exact)]
    assert steps == pytest.approx([a_rung] * len(steps), abs=1e-5)


def heat_rows(row: dict[str, str]) -> tuple[HeatRow, ...]:
    """The bands and numbers of a row: '1/1 and 1/2 / 1/4 to 1/128' with '15 / 40 then rest at least 10 min'."""
    counts, rest = row["value"].split(" then rest at least ")
    bands = row["inputs"].replace("full power", "1/1").split(" / ")
    powers = [[float(Fraction(part)) for part in re.findall(r"1/\d+", band)] for band in bands]
    return tuple(
        HeatRow(max(band), min(band), int(count), 60 * int(rest.split()[0]))
        for band, count in zip(powers, counts.split(" / "), strict=True)
    )


@pytest.mark.parametrize("row_id", ["fl-088", "fl-089"])
def test_printed_heat_limits(row_id: str) -> None:
    """Fired without a pause the printed number fits and no more; after the printed rest the whole number fits again."""
    (row,) = [row for row in table("setups.csv") if row["id"] == row_id]
    heat = heat_rows(row)
    unit = Flash("f", "flash", ((35, 30),), heat=heat)
    assert [one.flashes for one in heat] == ([15, 40] if row_id == "fl-088" else [20])
    for one in heat:
        for power in (one.from_power, one.to_power):
            assert flashes_in_a_row(unit, power, 0) == one.flashes
            fired = [Fired(0, power)] * one.flashes
            assert wait_s(unit, fired, power, 0) > 0
            assert level(one, heat, fired, one.rest_s) == 0
            assert flashes_in_a_row(unit, power, 0, fired, one.rest_s) == one.flashes


def test_gels_as_their_maker_gives_them() -> None:
    coefficients = {row["quantity"]: row["value"] for row in table("setups.csv") if row["kind"] == "coefficient"}
    for gel in GELS:
        assert gel.shift_mired == float(coefficients[f"mired shift, {gel.name} gel"])
        transmitted, stops = (
            float(part.split()[0]) for part in coefficients[f"transmission, {gel.name} gel"].split(";")
        )
        assert gel.loss_stops == stops
        assert -log2(transmitted / 100) == pytest.approx(stops, abs=0.01)


def test_mireds_add() -> None:
    """Definition of the mired, 1e6/K: two gels one behind the other shift by the sum."""
    once = kelvin_through(kelvin_through(5500, 64), 109)
    assert once == pytest.approx(kelvin_through(5500, 64 + 109))
    assert 1e6 / once - 1e6 / 5500 == pytest.approx(173)
