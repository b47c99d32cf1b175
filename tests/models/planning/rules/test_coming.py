"""The workshops to come, all at once: what is found for each is what is found for it alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from models.planning.rules.coming import coming_workshops, findings_of
from models.planning.rules.dues import dues
from models.planning.rules.findings import findings_at
from models.planning.rules.workshops import draft_of
from models.rules.working_days import calendar_of
from models.store import rules as kept
from models.store.settings import get_setting
from models.store.spots import list_spots
from tests.databases import copy_of


@pytest.fixture(scope="module")
def town(demo_once, tmp_path_factory):
    """The demo town with a workshop more at every spot, each walked to from elsewhere."""
    with copy_of(demo_once, tmp_path_factory.mktemp("town")) as store:
        plan_more(store)
        yield store


def plan_more(store):
    with store.writing() as s:
        spots = list_spots(s)
        plain = draft_of(kept.list_workshops(s)[0])
        for number, spot in enumerate(spots):
            start = datetime(2026, 10, 24, 14, tzinfo=UTC) + timedelta(days=11 * number)
            away = spots[number - 1]
            kept.add_workshop(
                s,
                replace(
                    plain,
                    title=f"Walk to {spot.name}",
                    spot_id=spot.id,
                    fallback_spot_id=None,
                    starts=start,
                    ends=start + timedelta(hours=2),
                    meeting_point=(away.latitude_deg, away.longitude_deg),
                ),
            )


@pytest.mark.parametrize("now", [datetime(2026, 10, 17, 14, 40, tzinfo=UTC), datetime(2026, 12, 1, 8, tzinfo=UTC)])
def test_what_is_found_for_each_is_what_is_found_for_it_alone(town, now):
    with town.reading() as s:
        coming = coming_workshops(s, now)
        together = findings_of(s, coming, calendar_of(get_setting(s, "holidays")))
        alone = [
            findings_at(s, each.spot, each.footprint, today=each.today, meeting_point=each.workshop.meeting_point).found
            for each in coming
        ]
    assert len(coming) > 5
    assert any(finding.passing for found in together for each in found for finding in each.findings)
    assert list(together) == alone


def test_every_question_of_every_workshop_is_due_once(town):
    """What is due adds up to what the findings say must be asked."""
    now = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
    with town.reading() as s:
        coming = coming_workshops(s, now)
        found = findings_of(s, coming, calendar_of(get_setting(s, "holidays")))
        due = dues(list(zip(coming, found, strict=True)), kept.list_enquiries(s), kept.list_papers(s), now.date())
    to_ask = {
        (each.workshop.id, finding.area.id if finding.area else None, finding.activity)
        for each, answers in zip(coming, found, strict=True)
        for answer in answers
        for finding in answer.findings
        if finding.answer in (2, 3, 4)
    }
    asked = [
        (asking.coming.workshop.id, asking.area.id if asking.area else None, activity)
        for asking in (*due.ask, *due.unchecked)
        for activity in asking.activities
    ]
    assert set(asked) == to_ask
    assert [asking.by or now.date() for asking in due.ask] == sorted(asking.by or now.date() for asking in due.ask)


def test_nothing_to_come_is_an_answer(plans):
    with plans.reading() as s:
        assert coming_workshops(s, datetime(2026, 10, 17, tzinfo=UTC)) == ()
        assert findings_of(s, (), calendar_of("")) == ()
