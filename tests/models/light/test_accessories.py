"""Data sheets and accessories: bad ones are refused, naming the field; kit as kept answers "not known"."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.light.accessories import Filter, Gel, HeatRow, Stand
from models.light.kit import (
    Flash,
    Kit,
    Modifier,
    Trigger,
    guide_numbers_m,
)
from models.light.power import Power, rung
from models.light.reserve import working_aperture
from models.problems import InputProblem
from tests.models.light.setups import BOX, SLOW_TRIGGER, SMALL, START_OFF_LADDER

GOOD: dict[Any, dict[str, Any]] = {
    HeatRow: {"from_power": 1, "to_power": 1 / 2, "flashes": 15, "rest_s": 600},
    Gel: {"name": "1/2 orange", "loss_stops": 0.5, "shift_mired": 109},
    Filter: {"id": "nd", "name": "three stops", "stops": 3},
    Stand: {"id": "s", "name": "stand"},
    Flash: {"id": "f", "name": "flash", "guide_numbers": ((24, 20),)},
    Modifier: {"id": "m", "name": "box", "kind": "box", "loss_stops": 2},
    Trigger: {"id": "t", "name": "radio"},
}


@pytest.mark.parametrize(
    ("make", "named", "changes"),
    [
        (HeatRow, "heat", {"from_power": 1 / 4}),
        (HeatRow, "heat", {"from_power": 2}),
        (HeatRow, "heat", {"to_power": 0}),
        (HeatRow, "heat", {"to_power": float("nan")}),
        (HeatRow, "heat", {"flashes": 0}),
        (HeatRow, "heat", {"rest_s": 0}),
        (Gel, "loss_stops", {"loss_stops": -1}),
        (Gel, "shift_mired", {"shift_mired": 900}),
        (Gel, "shift_mired", {"shift_mired": float("nan")}),
        (Filter, "stops", {"stops": 0}),
        (Filter, "stops", {"stops": 21}),
        (Stand, "highest_m", {"highest_m": 0}),
        (Stand, "across_m", {"across_m": -1}),
        (Stand, "weight_kg", {"weight_kg": float("inf")}),
        (Flash, "rungs_per_stop", {"rungs_per_stop": 10}),
        (Flash, "lowest_power", {"lowest_power": 2}),
        (Modifier, "beam_deg", {"beam_deg": 180}),
        (Modifier, "face_m", {"face_m": (0.4, 0)}),
        (Modifier, "weight_kg", {"weight_kg": 0}),
        (Modifier, "loss_stops", {"loss_stops": -0.1}),
        (Trigger, "channels", {"channels": 0}),
        (Trigger, "sync_s", {"sync_s": 0}),
    ],
)
def test_what_cannot_be(make: Any, named: str, changes: dict[str, Any]) -> None:
    assert make(**GOOD[make]).name if make is not HeatRow else make(**GOOD[make])
    with pytest.raises(InputProblem) as problem:
        make(**GOOD[make] | changes)
    assert problem.value.field == named


def test_kit_as_kept_answers_not_known() -> None:
    assert (SMALL.heat, SMALL.rungs_per_stop, SMALL.guide_note) == ((), 3, "")
    assert (BOX.beam_deg, BOX.face_m, BOX.weight_kg, BOX.loss_note) == (None, None, None, "")
    assert SLOW_TRIGGER.channels is None
    assert Kit((), (), (), (), ()).gels == ()


@given(st.floats(1, 300), st.floats(0.3, 30), st.floats(1 / 128, 1), st.sampled_from((100, 200, 400)))
def test_feet_and_metres_agree(number_ft: float, distance_m: float, power: float, iso: float) -> None:
    """A guide number and a distance both in feet give the aperture that both give in metres."""
    ((_, number_m),) = guide_numbers_m([(24, number_ft)], "ft")
    in_feet = working_aperture(number_ft, distance_m / 0.3048, iso=iso, power=power)
    assert working_aperture(number_m, distance_m, iso=iso, power=power) == pytest.approx(in_feet)
    assert guide_numbers_m([(24, number_ft)], "m") == ((24, number_ft),)


@pytest.mark.parametrize(("per_stop", "words"), [(1, "1/2"), (2, "1/2 + 1/2 stop"), (3, "1/2 + 1/3 stop")])
def test_coarser_ladders(per_stop: int, words: str) -> None:
    """0.6 of full lies 0.74 stop under it: nearest 1, 1/2 and 2/3 stop under."""
    assert rung(Power(0.6, START_OFF_LADDER), 1 / 128, per_stop).words == words


@given(st.floats(1 / 128, 1), st.sampled_from((1, 2, 3)))
def test_the_remainder_is_at_most_half_a_rung(fraction: float, per_stop: int) -> None:
    found = rung(Power(fraction, START_OFF_LADDER), 1 / 128, per_stop)
    assert abs(found.remainder_stops) <= 1 / (2 * per_stop) + 1e-9
