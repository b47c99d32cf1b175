"""Stops in hand: the laws it obeys, and the rules on zoom, guide number, sync and which term binds."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, log2

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.exposure import START, EvFigure
from models.light.flash import (
    GELS,
    Camera,
    Choice,
    Flash,
    Modifier,
    Trigger,
    capacity_ev,
    reserve,
    reserve_series,
    sync,
    working_aperture,
)
from models.light.power import power_alone
from models.light.reserve import guide_number
from tests.models.light.setups import BOX, CAMERA, GRID, SLOW_TRIGGER, SMALL, UNMEASURED, choice, choices, evs, figures


def in_hand(given: Choice, subject: float = 10, behind: float | None = 11) -> float:
    return reserve(given, EvFigure(subject), None if behind is None else EvFigure(behind)).stops


@given(choices, figures, figures)
def test_twice_the_distance_takes_two_stops(given: Choice, subject: EvFigure, behind: EvFigure) -> None:
    far = replace(given, distance_m=given.distance_m * 2)
    assert reserve(far, subject, behind).stops == pytest.approx(reserve(given, subject, behind).stops - 2)


@given(choices)
def test_twice_the_units_give_one_stop(given: Choice) -> None:
    assert capacity_ev(replace(given, units=given.units * 2))[0] == pytest.approx(capacity_ev(given)[0] + 1)


@given(choices, evs, evs, st.floats(0, 3))
def test_a_stop_more_light_is_a_stop_less_reserve(given: Choice, subject: float, behind: float, more: float) -> None:
    assert in_hand(given, subject + more, behind + more) == pytest.approx(in_hand(given, subject, behind) - more)


@given(choices, evs, evs, st.floats(50, 25600), st.floats(50, 25600))
def test_iso_cancels(given: Choice, subject: float, behind: float, iso: float, other: float) -> None:
    """Power for flash alone, worked out through settings at the sync speed, is 2^-reserve at any ISO."""
    found = reserve(given, EvFigure(subject), EvFigure(behind))
    time_s = sync(given).shutter_s
    powers = []
    for speed in (iso, other):
        aperture = (2**found.ev_to_beat * time_s * speed / 100) ** 0.5
        settings = replace(START, shutter_s=time_s, aperture=aperture, iso=speed)
        powers.append(power_alone(given, settings).fraction)
    assert powers == pytest.approx([2**-found.stops] * 2)


def test_the_usual_start_comes_out_of_the_reserve_formula() -> None:
    """A flash that just gives f/5.6 at ISO 200, synced at 1/125 s, has nothing over surroundings of EV100 10.3."""
    guide_m = 5.6 * 2 / 2**0.5
    flash = Flash("f", "flash", ((35, guide_m),), measured=True, clean_sync_s=1 / 1000)
    given = choice(flash=flash, camera=Camera("c", "camera", 1 / 125), distance_m=2)
    assert working_aperture(guide_m, 2, iso=200) == pytest.approx(5.6)
    surroundings = reserve(given, EvFigure(0), EvFigure(0)).capacity_ev - given.surroundings_under
    assert 10.2 <= surroundings <= 10.4
    assert in_hand(given, 9, surroundings) == pytest.approx(0, abs=1e-9)


def test_zoom_counts_for_a_bare_or_gridded_head() -> None:
    for modifier in (None, GRID):
        wide, long = (choice(modifier=modifier, zoom_mm=zoom) for zoom in (24, 105))
        assert capacity_ev(long)[0] - capacity_ev(wide)[0] == pytest.approx(2.0)
    assert capacity_ev(choice(modifier=GRID, zoom_mm=24))[0] == pytest.approx(capacity_ev(choice())[0] - 1)


def test_guide_numbers_are_interpolated_between_zoom_steps() -> None:
    assert guide_number(choice(zoom_mm=37)).metres == pytest.approx(24.0)


@pytest.mark.parametrize(("zoom", "taken", "metres"), [(17, "24", 20), (200, "105", 40)])
def test_a_zoom_off_the_scale_is_held_at_its_end_and_said(zoom: float, taken: str, metres: float) -> None:
    found = guide_number(choice(zoom_mm=zoom))
    assert found.metres == pytest.approx(metres)
    assert found.notes == (f"The guide number is known from 24 to 105 mm; {zoom} mm is taken as {taken} mm.",)


def test_a_modifier_keeps_the_zoom_it_was_measured_at() -> None:
    at_24, at_105 = choice(modifier=BOX, zoom_mm=24), choice(modifier=BOX, zoom_mm=105)
    assert capacity_ev(at_24) == capacity_ev(at_105)
    assert guide_number(at_24).metres == pytest.approx(10.0)
    assert guide_number(at_24).notes == ()
    (note,) = guide_number(at_105).notes
    assert note.startswith("Not measured: a box at 105 mm.")
    at_50 = choice(modifier=replace(BOX, measured_zoom_mm=50))
    assert guide_number(at_50).metres == pytest.approx(14.0)


def test_a_modifier_whose_zoom_nobody_noted() -> None:
    found = guide_number(choice(modifier=replace(BOX, measured_zoom_mm=None), zoom_mm=105))
    assert found.metres == pytest.approx(10.0)
    assert found.notes[0].startswith("Not measured")


@given(choices, figures, figures)
def test_an_unmeasured_guide_number_is_half_a_stop_low_and_joins_the_doubt(
    given: Choice, subject: EvFigure, behind: EvFigure
) -> None:
    sure = reserve(replace(given, flash=SMALL), subject, behind)
    unsure = reserve(replace(given, flash=UNMEASURED), subject, behind)
    assert unsure.stops == pytest.approx(sure.stops - 0.5)
    assert unsure.doubt_stops == pytest.approx(hypot(sure.doubt_stops, 0.5))
    assert any("measured" in note for note in unsure.notes)


def test_a_gel_comes_off_the_reserve() -> None:
    for gel in GELS:
        assert in_hand(choice(gel=gel)) == pytest.approx(in_hand(choice()) - gel.loss_stops)


@pytest.mark.parametrize(
    ("changes", "shutter_s", "held_by"),
    [
        ({"camera": replace(CAMERA, sync_s=1 / 160)}, 1 / 160, "camera"),
        ({"trigger": SLOW_TRIGGER}, 1 / 125, "trigger"),
        ({"flash": replace(SMALL, clean_sync_s=1 / 100), "trigger": SLOW_TRIGGER}, 1 / 100, "flash"),
        ({"trigger": Trigger("t", "trigger", 1 / 500)}, 1 / 250, "camera"),
    ],
)
def test_the_slowest_of_camera_trigger_and_flash(changes: dict[str, object], shutter_s: float, held_by: str) -> None:
    given = choice(**changes)
    assert (sync(given).shutter_s, sync(given).held_by) == (shutter_s, held_by)
    assert in_hand(given) == pytest.approx(in_hand(choice()) - log2(shutter_s * 250))


def test_which_term_binds_and_how_far_the_other_falls() -> None:
    backdrop = reserve(choice(), EvFigure(10, 0.3), EvFigure(12, 0.7))
    assert backdrop.binds == "backdrop"
    assert backdrop.ev_to_beat == pytest.approx(12 + 2 / 3)
    assert backdrop.other_falls_stops == pytest.approx(2 + 2 / 3)
    assert backdrop.doubt_stops == pytest.approx(0.7)
    face = reserve(choice(face_under=1.0), EvFigure(12, 0.3), EvFigure(10, 0.7))
    assert face.binds == "face"
    assert face.ev_to_beat == pytest.approx(13)
    assert face.other_falls_stops == pytest.approx(3)
    assert face.doubt_stops == pytest.approx(0.3)


def test_before_a_bearing_is_chosen_the_spot_counts() -> None:
    found = reserve(choice(surroundings_under=1.0), EvFigure(11, 0.7), None)
    assert (found.binds, found.other_falls_stops) == ("spot", None)
    assert found.ev_to_beat == pytest.approx(12)


@given(choices, evs, evs)
def test_the_term_that_binds_never_falls_less_than_asked(given: Choice, subject: float, behind: float) -> None:
    found = reserve(given, EvFigure(subject), EvFigure(behind))
    assert found.ev_to_beat - behind >= given.surroundings_under - 1e-9
    assert found.ev_to_beat - subject >= given.face_under - 1e-9
    assert found.other_falls_stops is not None
    asked = given.face_under if found.binds == "backdrop" else given.surroundings_under
    assert found.other_falls_stops >= asked - 1e-9


@given(choices, st.lists(st.tuples(evs, evs), min_size=1, max_size=8))
def test_series_and_single_instants_agree(given: Choice, light: list[tuple[float, float]]) -> None:
    subject, behind = np.array(light).T
    assert reserve_series(given, subject, behind) == pytest.approx([in_hand(given, s, b) for s, b in light])
    assert reserve_series(given, subject, None) == pytest.approx([in_hand(given, s, None) for s, _ in light])


def test_the_working_has_the_numbers_in_it() -> None:
    found = reserve(choice(modifier=BOX, units=2), EvFigure(10), EvFigure(11))
    assert found.working == (
        "GN_eff = 20.0 m at 24 mm × √2 × 2^(−(2.0 + 0.0)/2) = 14.1 m",
        "Reaches EV100 13.6 = log2(14.1² / (2² × t)), t = 1/250 s, the sync speed of the camera",
        "To beat: EV100 11.7 = the larger of backdrop 11.0 + 2/3 and face 10.0 + 2/3",
        "Reserve = 13.6 − 11.7 = 1.9 stops; ISO cancels",
    )


def test_several_losses_add() -> None:
    heavy = Modifier("m", "a big box", "box", 3.0, 24)
    assert in_hand(choice(modifier=heavy, gel=GELS[1])) == pytest.approx(in_hand(choice()) - 3.5)
