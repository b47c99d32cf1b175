"""Whose data is due when, in the time of the spot, and that a pass takes no more and no less."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from models.planning.workshops.erasing import due_for_erasing, due_words, erase_due
from models.planning.workshops.people import add_person, add_release, delete_person, people_of
from models.rules.workshop import WorkshopDraft
from models.store import rules
from models.store.erasing import last_erasure
from models.store.people import list_releases, personal_rows
from models.store.spots import add_spot
from models.street.spot import SpotDraft
from models.workshop.person import PersonDraft, ReleaseDraft

STARTS = datetime(2026, 10, 31, 7, 0, tzinfo=UTC)


@pytest.fixture
def far(plans):
    """A workshop where the day begins thirteen hours before it does in UTC."""
    with plans.writing() as s:
        place = {"latitude_deg": -36.8, "longitude_deg": 174.7, "zone": "Pacific/Auckland"}
        spot = add_spot(s, SpotDraft(name="Far quay", **place))
        draft = WorkshopDraft(title="Far", spot_id=spot.id, starts=STARTS, ends=STARTS + timedelta(hours=2))
        return rules.add_workshop(s, draft).id


def put(plans, workshop, name, **more):
    return add_person(plans, PersonDraft(workshop_id=workshop, part="attendee", name=name, **more))


def names(plans, workshop):
    return [each.name for each in people_of(plans, workshop)]


def test_the_day_is_that_of_the_spot(plans, far):
    put(plans, far, "Ana")
    last = datetime(2026, 11, 30, 10, 59, tzinfo=UTC)  # 23:59 there on 30 November, thirty days after
    assert due_for_erasing(plans, last).people == ()
    assert len(due_for_erasing(plans, last + timedelta(minutes=1)).people) == 1


def test_a_pass_takes_those_put_aside_too_and_says_so_without_names(plans, far):
    ana = put(plans, far, "Ana")
    put(plans, far, "Bo", erase_after=date(2026, 11, 2))
    put(plans, far, "Cy", erase_after=date(2027, 5, 1))
    delete_person(plans, far, ana.id, 1, now=STARTS)
    with plans.writing() as s:
        rules.delete_workshop(s, far, 1, now=STARTS)
    now = datetime(2026, 12, 1, 12, 0, tzinfo=UTC)
    assert due_words(due_for_erasing(plans, now)) == ["2 attendees of Far, kept until Monday 2 November 2026"]
    done = erase_due(plans, now)
    assert (done.people, done.purged, done.cleaned) == (2, 1, True)  # Ana was put aside over thirty days ago
    assert done.words == "2 people erased for good. 1 deleted over 30 days ago was thrown away."
    with plans.reading() as s:
        assert [each.name for each in personal_rows(s)] == ["Cy"]
        assert (last_erasure(s).people, last_erasure(s).cleaned) == (2, True)


def test_a_second_pass_finds_nothing(plans, far):
    put(plans, far, "Ana", erase_after=date(2026, 11, 2))
    now = datetime(2026, 11, 4, 12, 0, tzinfo=UTC)
    assert erase_due(plans, now).people == 1
    assert names(plans, far) == ["erased"]
    again = erase_due(plans, now)
    assert (again.people, again.releases, again.words) == (0, 0, "Nobody erased for good.")
    with plans.reading() as s:
        assert last_erasure(s).people == 1


def test_a_release_stays_until_its_own_day(plans, far):
    ana = put(plans, far, "Ana", erase_after=date(2026, 11, 2))
    paper = ReleaseDraft(workshop_id=far, person_id=ana.id, signed_on=date(2026, 10, 31), by_whom="Ana", for_whom="Ana",
                         uses=("web",), keep_until=date(2026, 12, 31))  # fmt: skip
    add_release(plans, paper)
    erase_due(plans, datetime(2026, 11, 10, tzinfo=UTC))
    with plans.reading() as s:
        assert [each.person_id for each in list_releases(s)] == [ana.id]
    assert erase_due(plans, datetime(2027, 1, 2, tzinfo=UTC)).words == "1 release erased for good."
    with plans.reading() as s:
        assert list_releases(s) == ()
