"""The form of a workshop: read back as shown, round clock changes too; all that is wrong named at once."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.clock import local_day
from models.planning.rules.workshop_form import (
    copied_form,
    new_form,
    read_workshop_form,
    spots_to_choose,
    understood,
    workshop_form_of,
)
from models.planning.rules.workshops import (
    add_workshop,
    call_off,
    change_workshop,
    delete_workshop,
    draft_of,
    footprint_of,
    get_workshop,
    restore_workshop,
)
from models.problems import InputProblem, InputProblems
from models.rules.footprint import Doing
from models.rules.workshop import WorkshopDraft
from models.store.versions import Clash, Missing
from tests.models.planning.grounds import ZONE, stand

NOW = datetime(2026, 10, 12, 10, 0, tzinfo=UTC)
AUTUMN, SPRING = date(2026, 10, 25), date(2026, 3, 29)


@pytest.fixture(scope="module")
def ground(shared_plans):
    return shared_plans, stand(shared_plans, "Lane"), stand(shared_plans, "Quay", east_m=200.0)


@st.composite
def drafts(draw, spot_id: int, other_id: int):
    """Round the days on which clocks change, to the minute."""
    begins = local_day(draw(st.sampled_from([AUTUMN, SPRING])), ZONE)[0]
    starts = begins + timedelta(minutes=draw(st.integers(0, 24 * 60)))
    counts = {
        name: draw(st.integers(0, 20)) for name in ("models", "stand_ground", "stand_held", "tripod", "flash_held")
    }
    ticks = {name: draw(st.booleans()) for name in ("teaching", "obstruction", "cable", "vehicle", "signs", "filming")}
    return WorkshopDraft(
        title=draw(st.text("abcé", min_size=1, max_size=20)),
        spot_id=spot_id,
        starts=starts,
        ends=starts + timedelta(minutes=draw(st.integers(5, 24 * 60))),
        doing=Doing(group=counts["models"] + draw(st.integers(1, 20)), **counts, **ticks),
        width_left_m=draw(st.none() | st.integers(30, 2000).map(lambda cm: cm / 100)),
        fallback_spot_id=draw(st.sampled_from([None, other_id])),
        meeting_point=draw(st.sampled_from([None, (52.5, 5.25)])),
    )


@given(st.data())
@settings(max_examples=60)
def test_what_is_shown_reads_back_as_the_same(ground, data):
    store, lane, quay = ground
    draft = data.draw(drafts(lane.id, quay.id))
    form = workshop_form_of(store, draft, lane)
    back = read_workshop_form(store, form, NOW)
    for name in WorkshopDraft.__dataclass_fields__:
        assert getattr(back, name) == getattr(draft, name), (name, form)


def test_a_copy_keeps_the_local_time_and_the_length(ground):
    store, lane, _ = ground
    starts = datetime(2026, 10, 17, 15, 0, tzinfo=UTC)
    draft = WorkshopDraft(title="x", spot_id=lane.id, starts=starts, ends=starts + timedelta(hours=2))
    copy = read_workshop_form(store, copied_form(store, draft, "31 Oct 2026"), NOW)
    assert (copy.starts, copy.ends) == (
        datetime(2026, 10, 31, 16, 0, tzinfo=UTC),
        datetime(2026, 10, 31, 18, 0, tzinfo=UTC),
    )


def test_all_problems_are_named_at_once(ground):
    store, _, _ = ground
    wrong = {"spot": "x", "day": "x", "from_time": "x", "group": "x", "tripod": "x", "width_left": "x", "fallback": "x"}
    with pytest.raises(InputProblems) as refused:
        read_workshop_form(store, new_form(store, {}, NOW) | wrong, NOW)
    assert set(refused.value.by_field) == set(wrong)


def test_without_a_title_it_is_called_after_its_spot(ground):
    store, lane, _ = ground
    form = new_form(store, {}, NOW) | {"spot": "lane", "day": "17 Oct", "from_time": "17:00"}
    draft = read_workshop_form(store, form, NOW)
    assert (draft.title, draft.spot_id) == ("Workshop at Lane", lane.id)
    assert draft.ends - draft.starts == timedelta(minutes=90)


def test_what_was_understood_is_said(ground):
    store, _, _ = ground
    form = new_form(store, {}, NOW) | {"spot": "lane", "day": "17 Oct", "from_time": "1700", "to_time": "2h"}
    assert understood(store, form, NOW) == {
        "spot": f"Lane, time zone {ZONE}",
        "day": "Saturday 17 October 2026",
        "to_time": "Saturday 17 October 2026, 17:00 to 19:00 CEST",
    }
    assert understood(store, {"spot": "nowhere"}, NOW) == {}


def test_a_new_form_takes_what_the_address_knows(ground):
    store, lane, _ = ground
    form = new_form(store, {"on": "2026-10-17", "at": "17:00", "group": "12"}, NOW)
    assert (form["day"], form["from_time"], form["group"], form.get("spot", "")) == ("2026-10-17", "17:00", "12", "")
    form = new_form(store, {"on": "2026-10-17", "at": "17:00", "lasts": "2h", "spot": str(lane.id)}, NOW)
    assert (form["spot"], form["day"], form["from_time"], form["to_time"]) == ("Lane", "2026-10-17", "17:00", "19:00")
    with pytest.raises(InputProblem):
        new_form(store, {"spot": str(lane.id), "group": "many"}, NOW)


def test_spots_of_one_name_are_offered_by_number(plans):
    one, other = stand(plans, "Corner"), stand(plans, "CORNER")
    stand(plans, "Quay")
    assert spots_to_choose(plans) == (
        (str(one.id), f"Corner (no. {one.id})"), (str(other.id), f"CORNER (no. {other.id})"), ("Quay", "Quay"),
    )  # fmt: skip


def test_keeping_changing_calling_off_and_deleting(plans):
    lane = stand(plans, "Lane")
    starts = datetime(2026, 10, 17, 15, 0, tzinfo=UTC)
    draft = WorkshopDraft(title="Evening", spot_id=lane.id, starts=starts, ends=starts + timedelta(hours=2))
    kept = add_workshop(plans, draft)
    assert draft_of(kept) == draft
    off = call_off(plans, kept.id, kept.version, called_off=True)
    assert off.called_off
    changed = change_workshop(plans, kept.id, off.version, draft)
    assert changed.called_off, "a change of the rest leaves it called off"
    with pytest.raises(Clash):
        call_off(plans, kept.id, kept.version, called_off=False)
    delete_workshop(plans, kept.id, changed.version, now=NOW)
    with pytest.raises(Missing):
        get_workshop(plans, kept.id)
    assert restore_workshop(plans, kept.id).title == "Evening"
    footprint = footprint_of(kept, ZONE)
    assert (f"{footprint.starts:%H:%M}", f"{footprint.ends:%H:%M}") == ("17:00", "19:00")
