"""Versions: issued once, kept as they were, told with what changed; called off and moved are told at once."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from models.planning.briefing.page import briefing_page
from models.planning.briefing.versions import current, issue, issued_briefing, shown_versions
from models.planning.rules.workshops import call_off, delete_workshop, get_workshop, restore_workshop
from models.planning.workshops.moving import move_workshop
from models.problems import InputProblem
from models.store.briefings import issued_of
from models.store.plans import keep_plan, plan_of
from models.store.versions import Missing
from models.words.briefing_parts import standing_words
from models.words.briefing_since import AS_ISSUED
from models.workshop.briefing import READERS
from tests.models.planning.briefing.briefed import plan_draft
from tests.models.planning.workshops.evening import NOW

LATER = NOW + timedelta(days=2)


def replan(store, **changes):
    with store.writing() as s:
        keep_plan(s, plan_of(s, 1).version, plan_draft(1, **changes))


def versions_of(store, number):
    with store.reading() as s:
        return shown_versions(issued_of(s, number))


def version(store):
    return get_workshop(store, 1).version


def test_what_was_never_issued_is_a_draft(briefed):
    told = issued_briefing(briefed, 1, "model", NOW)
    assert (told.version, told.issued, told.standing, told.changes) == (0, None, "on", ())
    assert versions_of(briefed, 1) == ()
    page = briefing_page(briefed, 1, NOW)
    assert page.answer.text.startswith("Never issued")
    assert (page.next, page.issued, page.shown) == (1, 0, "a draft, as it would be issued now")


def test_a_version_is_issued_and_nothing_changed_issues_none(briefed):
    issued = issue(briefed, 1, NOW)
    assert (issued.number, issued.at) == (1, NOW)
    assert issue(briefed, 1, LATER) is None
    told = issued_briefing(briefed, 1, "attendee", LATER)
    assert (told.version, told.issued, told.changes) == (1, date(2026, 10, 10), ())
    page = briefing_page(briefed, 1, LATER)
    assert page.answer.text == "Version 1 was issued on Saturday 10 October 2026; nothing changed since."
    assert (page.next, page.shown) == (0, "version 1, the latest")


def test_what_changed_waits_for_the_next_version_and_is_told_with_it(briefed):
    issue(briefed, 1, NOW)
    replan(briefed, drink_min=25.0, talks="Q. Lowe")
    assert issued_briefing(briefed, 1, "attendee", LATER).answer == current(briefed, 1, NOW).briefing("attendee").answer
    page = briefing_page(briefed, 1, LATER)
    assert page.next == 2
    assert page.briefing.issued is None
    for line in ("Meet 15 minutes earlier, at", "Who talks if we are asked to stop is now: Q. Lowe."):
        assert any(each.startswith(line) for each in page.changes)
    assert issue(briefed, 1, LATER).number == 2
    for reader in READERS:
        told = issued_briefing(briefed, 1, reader, LATER)
        assert told.version == 2
        assert told.changes[0].startswith("Meet 15 minutes earlier, at")
    shown = versions_of(briefed, 1)
    assert [(each.number, each.on) for each in shown] == [(2, date(2026, 10, 12)), (1, date(2026, 10, 10))]
    assert shown[0].changes == page.changes
    assert shown[1].changes == ()


def test_a_version_stays_as_it_was_issued(briefed):
    issue(briefed, 1, NOW)
    first = current(briefed, 1, NOW).facts
    replan(briefed, talks="Q. Lowe")
    issue(briefed, 1, LATER)
    page = briefing_page(briefed, 1, LATER, "helper", 1)
    assert page.shown == "version 1, no longer the latest"
    assert "J. Vine" in str(page.briefing.sections)
    assert current(briefed, 1, LATER).before == first
    for wrong in (0, 3, 10**9):
        with pytest.raises(InputProblem) as caught:
            briefing_page(briefed, 1, LATER, "helper", wrong)
        assert caught.value.field == "version"


def test_called_off_is_told_at_once_to_readers_of_an_older_version(briefed):
    issue(briefed, 1, NOW)
    call_off(briefed, 1, version(briefed), called_off=True)
    for reader in READERS:
        told = issued_briefing(briefed, 1, reader, LATER)
        assert (told.version, told.standing) == (1, "called off")
        assert standing_words(told).startswith("Called off")
    assert issue(briefed, 1, LATER).number == 2
    assert issued_briefing(briefed, 1, "model", LATER).changes == (), "what changed before is of no use any more"
    call_off(briefed, 1, version(briefed), called_off=False)
    assert issued_briefing(briefed, 1, "model", LATER).standing == "called off"
    issue(briefed, 1, LATER)
    told = issued_briefing(briefed, 1, "model", LATER)
    assert (told.standing, told.changes) == ("on", ("It is on again.",))


def test_a_move_is_told_at_once_and_in_full_with_the_next_version(briefed):
    issue(briefed, 1, NOW)
    move_workshop(briefed, 1, version(briefed), "20 min later", NOW)
    told = issued_briefing(briefed, 1, "model", LATER)
    assert told.standing == "moved"
    assert standing_words(told).startswith("Meet at 16:54 CEST instead of 16:34 CEST. Moved: ")
    assert "Saturday 17 October 2026, meet at 16:54 CEST, set-up at 17:20 CEST" in told.changes[0]
    assert "16:54" in told.answer
    assert told.starts == get_workshop(briefed, 1).starts
    assert {each.key for each in told.sections if AS_ISSUED in each.paragraphs} == {"when"}
    issue(briefed, 1, LATER)
    told = issued_briefing(briefed, 1, "model", LATER)
    assert (told.standing, told.version) == ("moved", 2)
    assert AS_ISSUED not in str(told.sections)
    assert told.changes[0].startswith("Everything is 20 minutes later: meet at")


def test_a_move_is_told_on_with_later_versions_until_nobody_needs_it(briefed):
    issue(briefed, 1, NOW)
    move_workshop(briefed, 1, version(briefed), "20 min later", NOW)
    issue(briefed, 1, LATER)
    for talks in ("Q. Lowe", "Q. Hale"):
        replan(briefed, talks=talks)
        issue(briefed, 1, LATER)
        told = issued_briefing(briefed, 1, "model", LATER)
        assert standing_words(told).startswith("Meet at 16:54 CEST instead of 16:34 CEST. Moved: ")
        assert told.changes[0].startswith("Since version 1: Everything is 20 minutes later: meet at 16:54 CEST")
        assert told.changes[-1].startswith("Since version ")
    replan(briefed, talks="Q. Reed")
    issue(briefed, 1, LATER)
    assert issued_briefing(briefed, 1, "model", LATER).standing == "moved", (
        "within a fortnight any may be the last read"
    )
    assert briefing_page(briefed, 1, LATER, "model", 5).briefing.standing == "moved"
    told = issued_briefing(briefed, 1, "model", LATER + timedelta(days=15))
    assert (told.version, told.standing) == (5, "on")
    assert [each.number for each in versions_of(briefed, 1)] == [5, 4, 3, 2, 1]


def test_a_deleted_workshop_has_no_briefing_and_a_restored_one_has_its_versions(briefed):
    issue(briefed, 1, NOW)
    delete_workshop(briefed, 1, version(briefed), now=NOW)
    for ask in (lambda: issued_briefing(briefed, 1, "model", NOW), lambda: issue(briefed, 1, NOW)):
        with pytest.raises(Missing):
            ask()
    restore_workshop(briefed, 1)
    assert issued_briefing(briefed, 1, "model", NOW).version == 1


def test_a_reader_nobody_knows_is_shown_what_attendees_get(briefed):
    assert briefing_page(briefed, 1, NOW, "<script>").reader == "attendee"
