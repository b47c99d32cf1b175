"""Moving a workshop: by minutes, to a clock time, to a day, to both; across a change of the clocks; and back."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from models.planning.rules.workshops import get_workshop
from models.planning.workshops.moving import move_back, move_workshop, read_move
from models.problems import InputProblem
from models.rules.workshop import WorkshopDraft
from models.store import rules
from models.store.spots import add_spot
from models.store.versions import Clash
from models.street.spot import SpotDraft

ZONE = "Europe/Amsterdam"
STARTS = datetime(2026, 10, 17, 15, 0, tzinfo=UTC)
"""17:00 CEST."""
TODAY = date(2026, 10, 10)


@pytest.mark.parametrize(
    ("text", "day", "clock"),
    [
        ("20 min later", 17, "15:20"), ("+20", 17, "15:20"), ("-15 min", 17, "14:45"), ("1 h earlier", 17, "14:00"),
        ("− 90 min", 17, "13:30"), ("2 h back", 17, "13:00"), ("17:30", 17, "15:30"), ("5:30 pm", 17, "15:30"),
        ("18 Oct", 18, "15:00"), ("24.10.", 24, "15:00"), ("18 Oct 17:30", 18, "15:30"),
        ("2026-10-18, 9:15", 18, "07:15"), ("6 pm", 17, "16:00"),
    ],
)  # fmt: skip
def test_where_to_is_read(text, day, clock):
    hour, minute = map(int, clock.split(":"))
    assert read_move(text, STARTS, ZONE, TODAY) == datetime(2026, 10, day, hour, minute, tzinfo=UTC)


def test_another_day_keeps_the_local_time_over_a_change_of_the_clocks():
    assert read_move("31 Oct", STARTS, ZONE, TODAY) == datetime(2026, 10, 31, 16, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "  ",
        "soon",
        "17:00",
        "17 Oct",
        "+0",
        "8 days later",
        "900 h later",
        "31.02.",
        "25:00",
        "25 Oct 02:30",
        "later",
        "x" * 500,
    ],
)
def test_what_cannot_be_meant_is_refused(text):
    with pytest.raises(InputProblem) as problem:
        read_move(text, STARTS, ZONE, TODAY)
    assert problem.value.field == "to"


@pytest.fixture
def workshop(plans):
    with plans.writing() as s:
        spot = add_spot(s, SpotDraft(name="Lane", latitude_deg=52.5, longitude_deg=5.2, zone=ZONE))
        draft = WorkshopDraft(title="Evening", spot_id=spot.id, starts=STARTS, ends=STARTS + timedelta(hours=2),
                              width_left_m=1.5, called_off=True)  # fmt: skip
        return rules.add_workshop(s, draft)


def test_everything_else_stays_and_it_goes_back(plans, workshop):
    moved = move_workshop(plans, workshop.id, 1, "20 min later", STARTS)
    assert (moved.was[-19:], moved.now[-19:]) == ("17:00 to 19:00 CEST", "17:20 to 19:20 CEST")
    now = get_workshop(plans, workshop.id)
    assert (now.starts - workshop.starts, now.ends - now.starts) == (timedelta(minutes=20), timedelta(hours=2))
    assert (now.title, now.width_left_m, now.called_off) == ("Evening", 1.5, True)
    assert move_back(plans, workshop.id, now.version, moved.back).workshop.starts == STARTS


def test_who_comes_second_clashes_and_a_broken_way_back_is_refused(plans, workshop):
    move_workshop(plans, workshop.id, 1, "+5", STARTS)
    with pytest.raises(Clash):
        move_workshop(plans, workshop.id, 1, "+5", STARTS)
    for text in ("", "yesterday", "2026-10-17T15:00:00"):
        with pytest.raises(InputProblem):
            move_back(plans, workshop.id, 2, text)
