"""What cannot be meant of a station, a plan or a happening is refused by the name of its field."""

from __future__ import annotations

from dataclasses import fields
from datetime import UTC, datetime

import pytest

from models.problems import InputProblem
from models.workshop.happening import KINDS, HappeningDraft, checked_happening
from models.workshop.plan import MINUTES, SECONDS, BlockEdit, PlanDraft, checked_plan
from models.workshop.station import StationDraft, checked_station

NAN, INF = float("nan"), float("inf")
NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
STATIONS = [
    ("name", ""), ("name", "\n \t"), ("name", "a name that is too long to call"), ("name", "A\x00"), ("name", None),
    ("workshop_id", 0), ("setup_id", 2**31), ("setup_id", True), ("model_id", -1), ("place", (91.0, 0.0)),
    ("place", (NAN, 0.0)), ("place", "52, 5"), ("place", (52.0,)), ("looking_deg", 361.0), ("looking_deg", INF),
    ("depth_m", 0.0), ("depth_m", NAN), ("depth_m", 31.0), ("width_m", "2"), ("holders", 9), ("holders", 1.5),
    ("watchers", -1), ("watchers", None), ("pose_s", 601.0), ("lesson", "x" * 201), ("notes", "x" * 4001),
]  # fmt: skip
PLANS = [
    ("group_size", 0), ("group_size", 13), ("frames", 0), ("frames", 2.0), ("walk_min", -1.0), ("pace_m_s", 0.1),
    ("pace_m_s", NAN), ("test_flashes", 501), ("fallback_ids", tuple(range(1, 8))), ("fallback_ids", (0,)),
    ("language", "English"), ("language", ""), ("talks", "x" * 121), ("organiser_helps", 1),
    *((name, NAN) for name in (*SECONDS, *MINUTES)), *((name, -0.1) for name in (*SECONDS, *MINUTES)),
]  # fmt: skip
HAPPENINGS = [
    ("kind", "eaten"), ("at", NOW.replace(tzinfo=None)), ("at", None), ("about", None), ("about", 0), ("round", 0),
    ("turn", 0), ("turn", True), ("note", "x" * 4001),
]  # fmt: skip


def refused(check, draft):
    with pytest.raises(InputProblem) as problem:
        check(draft)
    return problem.value.field


@pytest.mark.parametrize(("field", "value"), STATIONS)
def test_a_station_names_the_field_that_cannot_be(field, value):
    assert refused(checked_station, StationDraft(**{"workshop_id": 1, "name": "A", field: value})) == field


@pytest.mark.parametrize(("field", "value"), PLANS)
def test_a_plan_names_the_field_that_cannot_be(field, value):
    assert refused(checked_plan, PlanDraft(**{"workshop_id": 1, field: value})) == field


@pytest.mark.parametrize(("field", "value"), HAPPENINGS)
def test_a_happening_names_the_field_that_cannot_be(field, value):
    given = {"workshop_id": 1, "kind": "left", "at": NOW, "about": 3, field: value}
    assert refused(checked_happening, HappeningDraft(**given)) == field


def test_losing_the_spot_is_about_nobody_and_all_else_about_somebody():
    for kind in KINDS:
        about = None if kind == "spot lost" else 3
        good = HappeningDraft(workshop_id=1, kind=kind, at=NOW, about=about)
        assert checked_happening(good) == good
        bad = HappeningDraft(workshop_id=1, kind=kind, at=NOW, about=None if about else 3)
        assert refused(checked_happening, bad) == "about"


def test_every_time_of_a_plan_is_checked():
    times = {field.name for field in fields(PlanDraft) if field.name.endswith(("_s", "_min"))}
    assert times == {*SECONDS, *MINUTES, "walk_min", "pace_m_s"}


def test_blocks_are_called_by_their_place_and_the_last_edit_holds():
    edits = (BlockEdit("meet", 5.0), BlockEdit("walk"), BlockEdit(" meet ", 7.0, " early "))
    assert checked_plan(PlanDraft(workshop_id=1, blocks=edits)).blocks == (BlockEdit("meet", 7.0, "early"),)
    assert (
        refused(checked_plan, PlanDraft(workshop_id=1, blocks=(BlockEdit("meet"), BlockEdit("x", NAN)))) == "blocks 2"
    )
    assert refused(checked_plan, PlanDraft(workshop_id=1, blocks=(BlockEdit(" "),))) == "blocks 1"
