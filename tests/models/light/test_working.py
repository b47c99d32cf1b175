"""When a setup works over a series of light, and that it agrees with solving one instant."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.exposure import EvFigure
from models.light.flash import reserve_series
from models.light.kit import Camera, Flash
from models.light.setup import Setup, choice_of
from models.light.solve import solve
from models.light.wanted import Wanted
from models.light.working import WHYS, working_over
from tests.models.light.round_a_model import CAMERA, FILL, FOUR, light, setup, setups

evs = st.floats(-4, 17)
DISCRETE_STOPS = 1 / 3 + 1 / 6
"""One instant turns its dials in thirds and takes the nearest rung."""


def whys(given_: Setup, subject: list[float], wanted: Wanted | None = None) -> list[str]:
    found = working_over(given_, wanted or Wanted(), subject, [ev + 0.5 for ev in subject])
    return [WHYS[code] for code in found.why]


def test_a_day_from_noon_to_night() -> None:
    """The box key at 2 m: capacity EV 13.25 at 1/200 s; its 1/128 at 1/60 s gives out near EV 5."""
    assert whys(setup(), [15, 12, 8, 1, float("nan")]) == ["too weak", "works", "works", "too strong", "not known"]


def test_spans_are_first_and_last_instants() -> None:
    found = working_over(setup(), Wanted(), [15.0, 12, 8, 1, 9, 9, 15], None)
    assert found.works.tolist() == [False, True, True, False, True, True, False]
    assert found.spans == ((1, 2), (4, 5))
    assert working_over(setup(), Wanted(), [15.0], None).spans == ()
    assert working_over(setup(), Wanted(), [10.0, 10.0], None).spans == ((0, 1),)


def test_a_key_alone_has_the_reserve_and_what_the_ambient_gives() -> None:
    """With the face a under, the flash needs only 1 - 2^-a, so it has -log2 of that more in hand than the reserve."""
    subject, behind = np.array([8.0, 10, 12]), np.array([9.0, 10, 11.5])
    choice = choice_of(light(), setup())
    under = np.maximum(behind, subject) + 2 / 3 - subject
    expected = reserve_series(choice, subject, behind) - np.log2(1 - 2.0**-under)
    assert working_over(setup(), Wanted(), subject, behind).stops_in_hand == pytest.approx(expected)


def test_the_weakest_light_is_named() -> None:
    weak = light(role="edge", flash=Flash("weak", "weak", ((24, 4),), measured=True), axis_deg=150.0)
    found = working_over(setup(light(), weak), Wanted(), [12.0], None)
    assert (WHYS[int(found.why[0])], int(found.weakest[0])) == ("too weak", 1)


def test_the_camera_may_be_the_one_that_cannot() -> None:
    strong = light(flash=Flash("s", "s", ((24, 400),), measured=True, lowest_power=1 / 4096))
    assert whys(setup(strong), [17], Wanted(aperture=4.0)) == ["too bright for the camera"]
    weak = light(flash=Flash("w", "w", ((24, 1),), measured=True))
    slow = replace(CAMERA, highest_iso=100)
    assert whys(setup(weak, camera=slow), [0], Wanted(aperture=11.0)) == ["too dark for the camera"]


def test_lights_too_far_apart_for_one_shutter_time() -> None:
    """At EV_w 10.67 the edge's f/3.2 at full power reaches up to 1/143 s; the fill's 0.19 at 1/128 and 1 m wants 1/108
    s or longer."""
    edge = light(role="edge", flash=Flash("e", "e", ((24, 6.4),), measured=True), modifier=None)
    fill = replace(FILL, modifier=None, distance_m=1.0)
    assert whys(setup(light(), fill, edge), [9.5]) == ["lights too far apart"]


def test_ambient_that_exposes_leaves_nothing_to_do() -> None:
    assert whys(setup(surroundings_under=-1, face_under=-1), [10]) == ["ambient exposes"]


@given(setups, evs, st.floats(-2, 2))
def test_a_series_agrees_with_one_instant(given_: Setup, subject: float, brighter: float) -> None:
    behind = subject + brighter
    found = working_over(given_, Wanted(), [subject], [behind])
    one = solve(given_, Wanted(), EvFigure(subject), EvFigure(behind), move=False)
    why = WHYS[int(found.why[0])]
    if why == "works":
        assert all(abs(light.cannot_stops) <= DISCRETE_STOPS + 1e-6 for light in one.lights)
        assert one.dialled.fit == "fits" or abs(one.dialled.off_stops) <= DISCRETE_STOPS
    if why == "too weak" and found.stops_in_hand[0] < -DISCRETE_STOPS:
        assert not one.works
    if why == "too bright for the camera":
        assert one.dialled.off_stops < 0


@given(st.lists(st.tuples(evs, evs), min_size=1, max_size=6))
def test_over_many_as_over_each(light_: list[tuple[float, float]]) -> None:
    subject, behind = np.array(light_).T
    together = working_over(setup(*FOUR), Wanted(), subject, behind)
    alone = [working_over(setup(*FOUR), Wanted(), [s], [b]) for s, b in light_]
    assert together.why.tolist() == [int(one.why[0]) for one in alone]
    assert together.stops_in_hand == pytest.approx([float(one.stops_in_hand[0]) for one in alone])


@given(evs, st.floats(0, 3))
def test_brighter_surroundings_never_leave_more_in_hand(ev: float, more: float) -> None:
    found = working_over(setup(*FOUR), Wanted(), [ev, ev + more], [ev, ev + more])
    assert found.stops_in_hand[1] <= found.stops_in_hand[0] + 1e-9


def test_a_camera_that_cannot_sync_fast_has_less_in_hand() -> None:
    slow = Camera("slow", "slow", sync_s=1 / 100)
    fast, slower = (working_over(setup(camera=c), Wanted(), [10.0], None).stops_in_hand[0] for c in (CAMERA, slow))
    assert fast - slower == pytest.approx(1)
