"""Measured guide numbers and losses: what a reading says, how several combine, that they replace the printed ones."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from math import hypot, sqrt
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.calibration import NEVER_UNDER_STOPS, READING_STOPS
from models.light.kit import UNMEASURED_DOUBT_STOPS, Choice, Flash, HeatRow, Modifier
from models.light.measuring import FlashReading, MeteredFlash, MeteredModifier, metered_flash, metered_modifier
from models.light.reserve import guide_number
from models.problems import InputProblem
from tests.models.light.setups import BOX, CAMERA, UNMEASURED

MAY, JUNE = date(2026, 5, 12), date(2026, 6, 1)
ONE_READING_STOPS = hypot(READING_STOPS["incident"], NEVER_UNDER_STOPS)


def reading(**changes: Any) -> FlashReading:
    """At 2 m, ISO 100, full power, bare, the meter read f/11."""
    return FlashReading(**{"flash_id": UNMEASURED.id, "on": MAY, "distance_m": 2.0, "aperture": 11.0} | changes)


def used_m(flash: Flash, **changes: Any) -> float:
    return guide_number(Choice(flash=flash, camera=CAMERA, **changes)).metres


@pytest.mark.parametrize(
    ("changes", "metres"),
    [({}, 22), ({"iso": 400}, 11), ({"power": 1 / 4}, 44), ({"distance_m": 4.0, "aperture": 5.5}, 22)],
)
def test_what_a_reading_says(changes: dict[str, Any], metres: float) -> None:
    assert reading(**changes).guide_number_m == pytest.approx(metres)


def test_the_metered_figure_is_used_instead_of_the_printed_one_and_marked_so() -> None:
    """Unmetered, guide number 20 is taken half a stop low."""
    assert used_m(UNMEASURED) == pytest.approx(20 * 2**-0.25)
    flash = metered_flash(UNMEASURED, [reading()])
    found = guide_number(Choice(flash=flash, camera=CAMERA))
    assert found.metres == pytest.approx(22)
    assert found.doubt_stops == pytest.approx(ONE_READING_STOPS)
    assert found.notes == (
        "Metered: guide number 22.0 m at 24 mm (one reading of 12 May 2026) instead of the 20.0 m it was down for.",
    )


def test_several_readings_are_averaged_in_stops_and_the_doubt_shrinks_to_a_floor() -> None:
    two = metered_flash(UNMEASURED, [reading(aperture=8.0), reading(aperture=16.0, on=JUNE)])
    assert used_m(two) == pytest.approx(sqrt(16 * 32))
    assert two.guide_doubt_stops(24) == pytest.approx(hypot(0.33 / sqrt(2), NEVER_UNDER_STOPS))
    assert "2 readings, the last of 1 June 2026" in two.guide_note
    many = metered_flash(UNMEASURED, [reading()] * 400)
    assert many.guide_doubt_stops(24) == pytest.approx(NEVER_UNDER_STOPS, abs=0.01)


def test_a_photo_weighs_less_than_a_meter() -> None:
    found = metered_flash(UNMEASURED, [reading(aperture=10.0), reading(aperture=20.0, kind="photo")])
    weight = READING_STOPS["photo"] ** -2 / (READING_STOPS["photo"] ** -2 + READING_STOPS["incident"] ** -2)
    assert used_m(found) == pytest.approx(20 * 2**weight, rel=1e-6)


def test_a_zoom_that_nobody_metered_moves_with_the_rest_and_keeps_its_doubt() -> None:
    """The widest zoom reads 21 instead of 20; the others rise by the same 5 %."""
    flash = metered_flash(UNMEASURED, [reading(aperture=10.5)])
    assert isinstance(flash, MeteredFlash)
    assert flash.printed == UNMEASURED.guide_numbers
    assert flash.guide_numbers == tuple((zoom, pytest.approx(number * 1.05)) for zoom, number in flash.printed)
    assert flash.guide_doubt_stops(105) == UNMEASURED_DOUBT_STOPS


def test_between_two_metered_zooms_the_move_is_in_between_and_new_zooms_are_kept() -> None:
    flash = metered_flash(UNMEASURED, [reading(), reading(zoom_mm=70.0, aperture=15.0)])
    numbers = dict(flash.guide_numbers)
    assert numbers[24] == pytest.approx(22)
    assert numbers[70] == pytest.approx(30)
    printed_70 = 28 + (40 - 28) * 20 / 55
    assert 30 / printed_70 < numbers[50] / 28 < 22 / 20
    assert numbers[105] / 40 == pytest.approx(30 / printed_70)


def test_what_the_sheet_says_besides_stays() -> None:
    sheet = Flash("f", "flash", ((24, 20),), heat=(HeatRow(1, 1, 20, 600),), rungs_per_stop=2)
    found = metered_flash(sheet, [reading(flash_id="f")])
    assert (found.heat, found.rungs_per_stop, found.name, found.measured) == (sheet.heat, 2, "flash", True)


def test_no_bare_reading_of_it_leaves_it_as_it_was() -> None:
    others = [reading(flash_id="another"), reading(modifier_id="box")]
    assert metered_flash(UNMEASURED, others) is UNMEASURED
    assert metered_modifier(BOX, [UNMEASURED], [reading(), reading(modifier_id="box", zoom_mm=50.0)]) is BOX


def test_with_and_without_the_modifier_gives_its_true_loss() -> None:
    """f/11 bare and f/4.49 behind it are 2.59 stops."""
    behind = reading(modifier_id="box", aperture=4.49)
    found = metered_modifier(BOX, [UNMEASURED], [reading(), behind])
    assert isinstance(found, MeteredModifier)
    assert found.loss_stops == pytest.approx(2.586, abs=0.001)
    assert found.measured_zoom_mm == 24
    assert found.loss_note == (
        "Metered: a box takes 2.6 stops at 24 mm (2 readings, the last of 12 May 2026) "
        "instead of the 2 it was down for."
    )
    flash = metered_flash(UNMEASURED, [reading(), behind])
    together = guide_number(Choice(flash=flash, camera=CAMERA, modifier=found))
    assert together.metres == pytest.approx(behind.guide_number_m)
    assert together.doubt_stops == pytest.approx(hypot(ONE_READING_STOPS, found.loss_doubt_stops))
    assert found.loss_note in together.notes


def test_the_loss_is_of_the_zoom_read_last_and_over_all_flashes() -> None:
    other = Flash("other", "other flash", ((24, 30), (50, 40)))
    at_24 = [reading(), reading(modifier_id="box", aperture=5.5)]
    at_50 = [replace(one, zoom_mm=50.0, on=JUNE, aperture=one.aperture * 1.4) for one in at_24]
    others = [replace(one, flash_id="other", aperture=2 * one.aperture) for one in at_50]
    found = metered_modifier(BOX, [UNMEASURED, other], [*at_24, *at_50, *others])
    assert isinstance(found, MeteredModifier)
    assert found.metered is not None
    assert (found.measured_zoom_mm, found.metered.readings) == (50, 4)
    assert found.loss_stops == pytest.approx(2)
    assert found.loss_doubt_stops == pytest.approx(sqrt(2) * ONE_READING_STOPS / sqrt(2))


def test_a_dish_that_reads_brighter_counts_as_taking_nothing_and_says_so() -> None:
    dish = Modifier("dish", "the dish", "other", 0.3)
    found = metered_modifier(dish, [UNMEASURED], [reading(), reading(modifier_id="dish", aperture=13.0)])
    assert found.loss_stops == 0
    assert "takes −0.5 stops, counted as none" in found.loss_note


@given(st.floats(0.5, 4), st.floats(2.8, 22), st.floats(50, 400), st.floats(1 / 16, 1), st.floats(2, 200))
def test_a_reading_in_feet_gives_the_guide_number_in_feet(
    distance_m: float, aperture: float, iso: float, power: float, printed_m: float
) -> None:
    """Whatever was printed: one reading decides, and forward from it the meter reads the same again."""
    flash = Flash("f", "flash", ((24, printed_m),))
    one = FlashReading(flash_id="f", on=MAY, distance_m=distance_m, aperture=aperture, iso=iso, power=power)
    number_m = used_m(metered_flash(flash, [one]))
    assert number_m * sqrt(iso / 100 * power) / distance_m == pytest.approx(aperture)
    number_ft = aperture * (distance_m / 0.3048) / sqrt(iso / 100 * power)
    assert number_m / 0.3048 == pytest.approx(number_ft)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("distance_m", 0),
        ("aperture", float("nan")),
        ("iso", -100),
        ("power", 0),
        ("power", 2),
        ("zoom_mm", 0),
        ("kind", "guessed"),
        ("aperture", 0.1),
        ("iso", 1e-3),
    ],
)
def test_a_reading_that_cannot_be(field: str, value: object) -> None:
    with pytest.raises(InputProblem) as problem:
        reading(**{field: value})
    assert problem.value.field == ("aperture" if value == 1e-3 else field)
