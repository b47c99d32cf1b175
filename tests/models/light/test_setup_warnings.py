"""Every warning at its bound: just beyond it is given, just before it is not."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from models.light.accessories import Filter, Stand
from models.light.exposure import EvFigure, Settings
from models.light.kit import Flash
from models.light.setup import Setup
from models.light.setup_warnings import Street, Warned, warnings_of
from models.light.solve import solve
from models.light.wanted import Wanted
from models.problems import InputProblem
from models.street.comfort import DOWN_N
from tests.models.light.round_a_model import UMBRELLA, light, setup

FILTERS = (Filter("nd6", "six stops", 6), Filter("nd3", "three stops", 3))


def kinds(given: Setup, **asked: Any) -> list[str]:
    return [one.kind for one in warnings_of(given, **asked)]


def only(given: Setup, kind: str, **asked: Any) -> Warned:
    (one,) = [warned for warned in warnings_of(given, **asked) if warned.kind == kind]
    return one


def test_nothing_to_warn_of() -> None:
    assert warnings_of(setup(), pace_s=5, frames=10, wind_m_s=3, filters=FILTERS) == ()


def test_over_the_sync_speed() -> None:
    fast = setup(settings=Settings(1 / 250, 5.6, 200))
    assert only(fast, "over sync") == Warned("over sync", None, 1 / 250, 1 / 200, "camera")
    assert kinds(setup(settings=Settings(1 / 200, 5.6, 200))) == []


@pytest.mark.parametrize(("power", "off"), [(0.3, True), (1 / 256, True), (1 / 128, False), (2 ** (-5 / 3), False)])
def test_off_the_ladder(power: float, off: bool) -> None:
    assert kinds(setup(light(power=power))) == (["off the ladder"] if off else [])


@pytest.mark.parametrize(("distance_m", "power", "role", "told"), [
    (0.49, 1.0, "key", True), (0.5, 1.0, "key", False), (0.49, 0.0, "key", False), (0.49, 1.0, "background", False),
])  # fmt: skip
def test_a_flash_very_near_the_eyes(distance_m: float, power: float, role: str, told: bool) -> None:
    near = setup(light(role=role, distance_m=distance_m, height_m=1.6, power=power))
    assert ("near the eyes" in kinds(near)) == told


def test_the_nearest_rung_is_named() -> None:
    assert only(setup(light(power=0.3)), "off the ladder").what == "1/4 + 1/3 stop"


def test_a_light_that_cannot() -> None:
    tiny = setup(light(flash=Flash("tiny", "tiny", ((24, 3),), measured=True)))
    solved = solve(tiny, Wanted(), EvFigure(13), EvFigure(13))
    warned = only(solved.setup, "cannot", solved=solved)
    assert warned == Warned("cannot", 0, solved.lights[0].cannot_stops)
    assert warned.amount > 0


def test_the_filter_that_fixes_a_lens_that_cannot_stop_down() -> None:
    """EV 17.67 is wanted and f/16 at 1/200 s and ISO 100 takes 15.64: two stops, so the three-stop filter."""
    solved = solve(setup(), Wanted(), EvFigure(16), EvFigure(17))
    lacking = -solved.dialled.off_stops
    assert solved.dialled.fit == "too bright"
    assert only(solved.setup, "lens cannot stop down", solved=solved, filters=FILTERS) == Warned(
        "lens cannot stop down", None, pytest.approx(lacking), 3, "three stops"
    )
    none_owned = only(solved.setup, "lens cannot stop down", solved=solved)
    assert (none_owned.what, none_owned.limit) == ("", 2)
    typed = only(setup(settings=Settings(1 / 200, 22, 200)), "lens cannot stop down", filters=FILTERS)
    assert typed.amount == pytest.approx(0.92, abs=0.01)


def test_slower_than_the_pace_on_tired_cells() -> None:
    """2.9 s at full power, 4.35 s on tired cells."""
    full = setup(light(power=1.0))
    assert only(full, "recycle", pace_s=4) == Warned("recycle", 0, pytest.approx(4.35), 4)
    assert kinds(full, pace_s=4.4) == []
    assert kinds(setup(light(power=0.0)), pace_s=0.1) == []


def test_the_heat_limit_in_a_turn() -> None:
    """Twenty at full and half power, then ten minutes: at a frame every 5 s, 1 + 19 / (1 - 5/30) = 23."""
    assert only(setup(), "heat", pace_s=5, frames=24) == Warned("heat", 0, 23, 24)
    assert kinds(setup(), pace_s=5, frames=23) == []
    assert kinds(setup(light(power=1 / 4)), pace_s=5, frames=1000) == []


def test_an_umbrella_held_in_wind() -> None:
    """One metre across it comes down where force 5 begins, at 8 m/s; the small box only at 17.8 m/s."""
    held = setup(light(modifier=UMBRELLA))
    assert kinds(held, wind_m_s=7.9) == []
    warned = only(held, "too much to hold", wind_m_s=8.1)
    assert warned.amount >= warned.limit == DOWN_N
    assert warned.what == "the umbrella"
    assert kinds(setup(), wind_m_s=17) == []
    assert kinds(setup(light(modifier=None)), wind_m_s=17) == []
    unmeasured = setup(light(modifier=replace(UMBRELLA, face_m=None)))
    assert kinds(unmeasured, wind_m_s=5.5) == ["wind not judged"]
    assert kinds(unmeasured, wind_m_s=5.4) == []


def test_stands_in_wind() -> None:
    """The box pushes 8.8 N at 8 m/s: 3.9 kg to hang on it. The umbrella is held from force 4 on."""
    standing = setup(light(held=False))
    assert only(standing, "stand needs weight", wind_m_s=8).amount == pytest.approx(
        0.5 * 1.225 * 1.4 * 0.16 * 64 * 2 / (9.80665 / 4) - 3.2
    )
    assert kinds(standing, wind_m_s=3) == []
    assert kinds(standing, wind_m_s=10.8) == ["stands down"]
    assert "stands down" not in kinds(standing, wind_m_s=10.7)
    assert kinds(setup(light(held=False, modifier=None)), wind_m_s=12) == ["stands down"]
    umbrella = setup(light(held=False, modifier=UMBRELLA))
    assert kinds(umbrella, wind_m_s=5.4) == ["stand needs weight"]
    assert kinds(umbrella, wind_m_s=5.6) == ["hold by hand"]
    assert kinds(umbrella, wind_m_s=8.1) == ["too much to hold"]
    low = Stand("low", "low stand", highest_m=1.9)
    assert kinds(setup(light(held=False, stand=low))) == ["above its stand"]


STREET = Street(along_deg=90.0, lane_deg=0.0, lane_m=2.0, lane="cycle lane")
"""A walkway that runs east and west, a cycle lane to the north of it."""


@pytest.mark.parametrize(
    ("axis_deg", "looking_deg", "found"),
    [
        (0.0, 90.0, ["in walkers' eyes"]),
        (0.0, 270.0, ["in walkers' eyes"]),
        (44.0, 90.0, ["in walkers' eyes", "across the lane"]),
        (-44.0, 90.0, ["in walkers' eyes"]),
        (0.0, 0.0, ["across the lane"]),
        (59.0, 0.0, ["in walkers' eyes", "across the lane"]),
        (0.0, 180.0, []),
        (180.0, 0.0, []),
    ],
)
def test_walkers_and_lanes(axis_deg: float, looking_deg: float, found: list[str]) -> None:
    near = light(axis_deg=axis_deg, modifier=None)
    assert kinds(setup(near), street=STREET, looking_deg=looking_deg) == found


def test_a_light_that_would_stand_in_the_lane() -> None:
    """Camera looking south from the lane's side: the light at the camera stands 2.2 m north."""
    far = light(distance_m=2.2, height_m=1.5, axis_deg=0.0)
    assert only(setup(far), "in the lane", street=STREET, looking_deg=180.0) == Warned(
        "in the lane", 0, pytest.approx(2.2), 2.0, "cycle lane"
    )
    assert kinds(setup(replace(far, distance_m=1.9)), street=STREET, looking_deg=180.0) == []


def test_what_is_not_known_of_the_street_is_not_judged() -> None:
    ahead = setup(light(axis_deg=0.0))
    assert kinds(ahead, street=STREET) == []
    assert kinds(ahead, street=Street(), looking_deg=90.0) == []
    assert kinds(setup(light(power=0.0, axis_deg=0.0)), street=STREET, looking_deg=90.0) == []
    assert kinds(setup(light(role="background", axis_deg=0.0)), street=STREET, looking_deg=90.0) == []


@pytest.mark.parametrize(
    ("field", "value"),
    [("pace_s", 0), ("pace_s", float("nan")), ("frames", 0), ("wind_m_s", -1), ("wind_m_s", float("nan"))],
)
def test_plans_that_cannot_be(field: str, value: float) -> None:
    with pytest.raises(InputProblem, match=field):
        warnings_of(setup(), **{field: value})
