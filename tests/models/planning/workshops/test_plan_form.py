"""A plan's form: read back as it is shown, times as typed, every problem beside its field."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from models.planning.workshops.plan_form import plan_form_of, read_plan_form, understood
from models.problems import InputProblems
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from models.workshop.plan import MINUTES, SECONDS, BlockEdit, PlanDraft

USUAL = PlanDraft(workshop_id=7)


@pytest.fixture(scope="module")
def town(shared_plans):
    with shared_plans.writing() as s:
        for name in ("Lane", "Quay", "Square"):
            add_spot(s, SpotDraft(name=name, latitude_deg=52.5, longitude_deg=5.2, zone="UTC"))
    return shared_plans


def read(town, **typed):
    return read_plan_form(town, USUAL, plan_form_of(town, USUAL) | typed, 1)


PLANS = st.builds(
    PlanDraft,
    workshop_id=st.just(7),
    group_size=st.integers(1, 12),
    frames=st.none() | st.integers(1, 100),
    walk_min=st.none() | st.integers(0, 240).map(float),
    pace_m_s=st.sampled_from([1.07, 1.111111111]),
    fallback_ids=st.sampled_from([(), (2,), (3, 2)]),
    talks=st.sampled_from(["", "Bo"]),
    organiser_helps=st.booleans(),
    **{name: st.floats(0, 240).map(lambda x: round(x, 2)) for name in (*SECONDS, *MINUTES)},
)


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(PLANS)
def test_what_the_form_shows_is_read_back(town, plan):
    assert read_plan_form(town, plan, plan_form_of(town, plan), 1) == plan


def test_times_are_read_as_people_type_them_and_empty_is_as_usual(town):
    plan = read(
        town, move_s="2 min", pose_s="0:10", meet_min="90 s", pack_min="", walk_min="worked out", pace="slow pace"
    )
    assert (plan.move_s, plan.pose_s, plan.meet_min, plan.pack_min, plan.walk_min) == (120, 10, 1.5, 10, None)
    assert (plan.pace_m_s, read(town, pace="3,6 km/h").pace_m_s) == (0.91, 1.0)
    assert understood({"move_s": "2 min", "pose_s": "6 s", "meet_min": "x"}) == {"move_s": "120 s"}


def test_further_spots_go_in_order_once_each(town):
    assert read(town, fallbacks="square\n\n 2 \nSquare").fallback_ids == (3, 2)


def test_blocks_typed_over_stay(town):
    before = PlanDraft(workshop_id=7, blocks=(BlockEdit("meet", 5.0),))
    assert read_plan_form(town, before, plan_form_of(town, before), 1).blocks == before.blocks


def test_every_problem_is_named_at_once(town):
    with pytest.raises(InputProblems) as problems:
        read(town, group_size="0", frames="lots", pose_s="soon", fallbacks="Lane", pace="fast", walk_min="-1",
             test_flashes="1.5", organiser_helps="maybe")  # fmt: skip
    assert set(problems.value.by_field) == {
        "group_size", "frames", "pose_s", "fallbacks", "pace", "walk_min", "test_flashes", "organiser_helps",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("field", "text"),
    [("pose_s", "11 min"), ("meet_min", "5 h"), ("pace", "9 m/s"), ("pace", "nan"), ("pace", "inf"),
     ("language", "../x"),
     ("talks", "x" * 121), ("meets_by", "x" * 4001), ("indoors", "a\x00b"), ("fallbacks", "Nowhere"),
     ("fallbacks", "9" * 40)],
)  # fmt: skip
def test_what_is_out_of_reach_is_named(town, field, text):
    with pytest.raises(InputProblems) as problems:
        read(town, **{field: text})
    assert list(problems.value.by_field) == [field]
