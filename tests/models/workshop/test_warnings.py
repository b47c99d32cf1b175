"""What a running order warns of: when, by how much, and that what is not known is never taken for good."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from math import nan

from models.light.accessories import HeatRow
from models.light.battery import BatterySet
from models.light.kit import Flash
from models.light.setup import Light
from models.workshop.batteries import batteries
from models.workshop.plan import BlockEdit
from models.workshop.running_order import RunningOrder, running_order
from models.workshop.schedule import scheduled
from models.workshop.warnings import Dark, RuleWindow, StationLight, Warned, warnings_of
from tests.models.workshop.rotas import PLAN, pace, rota_of, walkers

STARTS = datetime(2026, 6, 6, 17, 0, tzinfo=UTC)
ENDS = STARTS + timedelta(minutes=60)
COUNTED = ((0.0, walkers(0.0)),)
PACES = {1: pace(1, waits=COUNTED), 2: pace(2, waits=COUNTED)}
SCHEDULE = scheduled(rota_of([2, 1], [1, 2]), PACES, PLAN)
ORDER = running_order(PLAN, STARTS, ENDS, SCHEDULE, walk_s=60, back_s=600, walks_back=True)
"""Rounds 17:20 to 17:30:10, group picture to 17:35:10, packed up 17:45:10, walk back 17:50:10 to 18:00:10."""


def minute(number: float) -> datetime:
    return STARTS + timedelta(minutes=number)


def light(first: int = 0, **series: object) -> StationLight:
    """Known and good from set-up to the end, unless changed."""
    good = {"sun": [False] * 60, "reserve_stops": [1.0] * 60, "moved_stops": [0.0] * 60}
    return StationLight(**{"post": 1, "starts": minute(first)} | good | series)  # type: ignore[arg-type]


def told(found: tuple[Warned, ...]) -> list[tuple[str, str, datetime]]:
    return [(one.kind, one.block, one.at) for one in found]


def test_a_workshop_without_trouble_warns_of_nothing() -> None:
    dark = Dark(STARTS, [False] * 90)
    assert (
        warnings_of(ORDER, [light()], [RuleWindow("market", minute(50))], batteries(ORDER.schedule, PACES, PLAN), dark)
        == ()
    )


def test_sun_that_reaches_and_leaves_a_station() -> None:
    sun = [False] * 22 + [True] * 4 + [False] * 34
    assert told(warnings_of(ORDER, [light(sun=sun)])) == [
        ("sun reaches", "round 1", minute(22)),
        ("sun leaves", "round 2", minute(26)),
    ]
    after_the_picture = [False] * 40 + [True] * 20
    assert warnings_of(ORDER, [light(sun=after_the_picture)]) == ()


def test_sun_that_nobody_knows_of_is_said_once() -> None:
    assert told(warnings_of(ORDER, [light(sun=[None] * 60)])) == [("sun not known", "set up", STARTS)]
    assert told(warnings_of(ORDER, [light(sun=())])) == [("sun not known", "set up", STARTS)]
    assert told(warnings_of(ORDER, [light(sun=[False] * 30)])) == [("sun not known", "round 2", minute(30))]


def test_light_that_begins_too_late_is_not_known_until_then() -> None:
    kinds = told(warnings_of(ORDER, [light(first=10)]))
    assert kinds == [(kind, "set up", STARTS) for kind in ("light not known", "reserve not known", "sun not known")]


def test_a_setup_that_no_longer_beats_the_light() -> None:
    stops = [1.0] * 21 + [-0.3, -0.8, -0.1] + [0.5] * 36
    (found,) = warnings_of(ORDER, [light(reserve_stops=stops)])
    assert (found.kind, found.block, found.at, found.post, found.amount) == (
        "reserve gone",
        "round 1",
        minute(21),
        1,
        0.8,
    )
    never = [-0.2] * 10 + [0.4] * 10 + [-0.1] * 40
    assert told(warnings_of(ORDER, [light(reserve_stops=never)])) == [
        ("reserve lacks", "set up", STARTS),
        ("reserve gone", "round 1", minute(20)),
    ]
    assert told(warnings_of(ORDER, [light(reserve_stops=[nan] * 60)])) == [("reserve not known", "set up", STARTS)]


def test_light_that_moves_away_from_the_setup() -> None:
    moved = [0.0] * 20 + [-0.5, -0.7, -1.2, -0.6, 0.0, 0.9] + [0.0] * 34
    darker, brighter = warnings_of(ORDER, [light(moved_stops=moved)])
    assert (darker.kind, darker.at, darker.amount) == ("light moved", minute(21), -1.2)
    assert (brighter.kind, brighter.at, brighter.amount) == ("light moved", minute(25), 0.9)


def test_hours_of_a_rule_that_end_before_all_is_packed() -> None:
    early, late = RuleWindow("stands until half past", minute(30)), RuleWindow("noise", minute(46))
    begins = replace(early, begins=True)
    assert [each.kind for each in warnings_of(ORDER, windows=[begins])] == ["window begins"]
    (found,) = warnings_of(ORDER, windows=[early, late])
    assert (found.kind, found.block, found.at, found.what) == ("window ends", "round 2", minute(30), early.name)
    assert round(found.amount * 60) == 910


def hot_order() -> tuple[RunningOrder, dict]:
    flash = Flash("f", "flash", ((24, 20.0),), heat=(HeatRow(1, 1 / 2, 6, 240),))
    cells = BatterySet("s", "cells", "AA", full_flashes=50)
    lights = (Light(role="key", flash=flash, power=1, battery=cells),)
    paces = {1: pace(1, waits=COUNTED, lights=lights)}
    schedule = scheduled(rota_of([3], [1]), paces, PLAN, frames=10)
    return running_order(PLAN, STARTS, minute(120), schedule, walk_s=0), paces


def test_cells_and_flashes() -> None:
    """20 tests and two turns of 11 are 42 of 45 usable: changed before turn 3, tired (over 40) in turn 2."""
    order, paces = hot_order()
    found = warnings_of(order, cells=batteries(order.schedule, paces, PLAN))
    kinds = {one.kind: one for one in found}
    assert set(kinds) == {"set runs out", "cells tired", "flash rests"}
    turns = order.schedule.rounds[0].visits[0].turns
    assert kinds["set runs out"].at == order.instant(1, turns[2].starts_s)
    assert (kinds["set runs out"].amount, kinds["set runs out"].limit) == (42, 50)
    assert kinds["cells tired"].at == order.instant(1, turns[1].starts_s)
    assert kinds["flash rests"].amount == sum(turn.heat_s for turn in turns) > 100


def test_the_walk_back_in_the_dark() -> None:
    dark = Dark(STARTS, [False] * 55 + [True] * 30)
    assert told(warnings_of(ORDER, dark=dark)) == [("walk back dark", "walk back", minute(55))]
    assert told(warnings_of(ORDER, dark=Dark(STARTS, [True] * 90)))[0][0] == "walk back dark"
    for unknown in ([None] * 90, (), [False] * 20):
        assert told(warnings_of(ORDER, dark=Dark(STARTS, unknown))) == [
            ("dark not known", "walk back", ORDER.blocks[-1].starts)
        ]
    partly = Dark(STARTS, [False] * 53)
    assert told(warnings_of(ORDER, dark=partly)) == [("dark not known", "walk back", minute(53))]


def test_times_that_leave_something_out() -> None:
    paces = {1: pace(1), 2: pace(2, waits=((0.0, replace(walkers(37), hopeless=True)),))}
    plan = replace(PLAN, blocks=(BlockEdit("round 1", 1),))
    order = running_order(plan, STARTS, minute(30), scheduled(rota_of([2, 1], [1, 2]), paces, PLAN))
    kinds = {(one.kind, one.block) for one in warnings_of(order)}
    assert kinds == {
        ("not counted", "round 1"), ("no gap", "round 1"), ("block too short", "round 1"), ("way not known", "walk"),
        ("over time", "pack"),
    }  # fmt: skip
