"""A link opens one briefing until its end or the next link, and nothing that stands in the database opens it."""

from __future__ import annotations

import hmac
import re
from base64 import b32encode
from dataclasses import replace
from datetime import datetime, timedelta

import pytest
import sqlalchemy as sa
from hypothesis import given
from hypothesis import strategies as st

from models.planning.briefing.shares import (
    MAC_BYTES,
    ReaderLink,
    links_page,
    make_links,
    renew_link,
    set_end,
    share_token,
    shared,
    token_of,
)
from models.problems import InputProblem
from models.store import rules
from models.store.engine import Store
from models.store.shares import shares_of, shelf
from models.store.versions import Clash, Missing
from models.workshop.briefing import READERS
from models.workshop.share import KEPT_FOR, Share, ShareDraft, checked_share
from tests.models.planning.workshops.evening import ENDS, NOW, keep_evening

SECRET = "only for tests"  # noqa: S105
ALMOST = timedelta(seconds=1)
ONE = Share(id=7, version=1, workshop_id=3, reader="model", salt="0" * 32, generation=2)


@pytest.fixture
def evening(plans: Store) -> int:
    return keep_evening(plans)[0]


@pytest.fixture
def link(plans: Store, evening: int) -> ReaderLink:
    make_links(plans, evening, ["attendee"], NOW)
    return of_attendees(plans, evening)


def of_attendees(store: Store, workshop_id: int, now: datetime = NOW) -> ReaderLink:
    (found,) = [each for each in links_page(store, SECRET, workshop_id, now).links if each.reader == "attendee"]
    return found


def opens(store: Store, token: str | None, now: datetime = NOW) -> bool:
    try:
        return shared(store, SECRET, token or "", now) is not None
    except Missing:
        return False


def test_the_token_is_the_number_and_a_keyed_hash_of_the_row() -> None:
    """RFC 2104 with SHA-256 (FIPS 180-4), its first 160 bits in base32 (RFC 4648), under a key for this alone."""
    key = hmac.new(SECRET.encode(), b"kerbstand: the link of a briefing", "sha256").digest()
    mac = hmac.new(key, b"7\n3\nmodel\n2\n" + b"0" * 32, "sha256").digest()[:20]
    assert share_token(SECRET, ONE) == f"7-{b32encode(mac).decode().lower()}"
    assert MAC_BYTES * 8 >= 128
    assert re.fullmatch(r"[0-9]+-[a-z2-7]{32}", share_token(SECRET, ONE))


@pytest.mark.parametrize(
    "changed", [{"id": 8}, {"workshop_id": 4}, {"reader": "helper"}, {"generation": 3}, {"salt": "1" * 32}]
)
def test_whatever_changes_makes_another_token(changed) -> None:
    other = replace(ONE, **changed)
    assert share_token(SECRET, other).partition("-")[2] != share_token(SECRET, ONE).partition("-")[2]


def test_another_secret_makes_another_token_and_a_version_the_same() -> None:
    assert share_token("another", ONE) != share_token(SECRET, ONE)
    assert share_token(SECRET, replace(ONE, version=9)) == share_token(SECRET, ONE)


def test_a_link_opens_its_own_briefing_and_can_be_shown_again(plans, evening, link) -> None:
    share = shared(plans, SECRET, link.token, NOW)
    assert (share.workshop_id, share.reader) == (evening, "attendee")
    assert of_attendees(plans, evening) == link
    assert token_of(plans, SECRET, evening, "attendee", NOW) == link.token
    assert token_of(plans, SECRET, evening, "model", NOW) is None


def test_each_kind_of_reader_has_a_link_of_its_own(plans, evening) -> None:
    make_links(plans, evening, READERS, NOW)
    tokens = [each.token for each in links_page(plans, SECRET, evening, NOW).links]
    assert len(set(tokens)) == len(READERS)
    assert [shared(plans, SECRET, token, NOW).reader for token in tokens] == list(READERS)


def test_no_row_holds_the_token(plans, link) -> None:
    secret_part = link.token.partition("-")[2]
    with plans.reading() as s:
        tables = s.execute(sa.text("SELECT name FROM sqlite_master WHERE type = 'table'")).scalars().all()
        kept = repr([s.execute(sa.text(f'SELECT * FROM "{name}"')).all() for name in tables])  # noqa: S608
    assert link.token not in kept
    assert secret_part not in kept


def test_a_link_that_is_asked_for_twice_stays_the_same(plans, evening, link) -> None:
    make_links(plans, evening, READERS, NOW)
    assert of_attendees(plans, evening) == link


def test_a_new_link_ends_the_old_one_for_good(plans, evening, link) -> None:
    renew_link(plans, evening, "attendee", link.version, NOW)
    fresh = of_attendees(plans, evening)
    assert opens(plans, fresh.token)
    assert not opens(plans, link.token)
    with pytest.raises(Clash):
        renew_link(plans, evening, "attendee", link.version, NOW)
    assert of_attendees(plans, evening) == fresh


def test_it_ends_fourteen_days_after_its_workshop_and_moves_with_it(plans, evening, link) -> None:
    assert opens(plans, link.token, ENDS + KEPT_FOR - ALMOST)
    assert not opens(plans, link.token, ENDS + KEPT_FOR)
    with plans.writing() as s:
        kept = rules.get_workshop(s, evening)
        later = replace(kept, starts=kept.starts + timedelta(days=7), ends=kept.ends + timedelta(days=7))
        rules.change_workshop(s, evening, kept.version, later)
    assert opens(plans, link.token, ENDS + KEPT_FOR)
    assert "7 November 2026" in of_attendees(plans, evening).ends


def test_a_day_of_its_own_ends_with_that_day_at_the_spot(plans, evening, link) -> None:
    set_end(plans, evening, "attendee", link.version, "20 Oct", NOW)
    kept = of_attendees(plans, evening)
    assert (kept.typed, kept.ends) == ("2026-10-20", "the end of Tuesday 20 October 2026")
    midnight = datetime.fromisoformat("2026-10-21T00:00:00+02:00")
    assert opens(plans, link.token, midnight - ALMOST)
    assert not opens(plans, link.token, midnight)
    assert of_attendees(plans, evening, midnight).over
    assert token_of(plans, SECRET, evening, "attendee", midnight) is None
    set_end(plans, evening, "attendee", kept.version, "", NOW)
    assert opens(plans, link.token, midnight)


def test_a_day_that_is_over_ends_it_at_once(plans, evening, link) -> None:
    set_end(plans, evening, "attendee", link.version, "2026-10-09", NOW)
    assert not opens(plans, link.token)


@pytest.mark.parametrize("later", [timedelta(days=15), timedelta(days=500)])
def test_a_link_made_long_after_the_workshop_works_for_as_long_from_that_day(plans, evening, later) -> None:
    late = ENDS + later
    told = of_attendees(plans, evening, late)
    assert told.token is None
    make_links(plans, evening, ["attendee"], late)
    link = of_attendees(plans, evening, late)
    assert link.ends == told.ends != ""
    assert not link.over
    assert opens(plans, link.token, late + KEPT_FOR - ALMOST)
    assert not opens(plans, link.token, late + KEPT_FOR + timedelta(days=1))
    set_end(plans, evening, "attendee", link.version, link.typed, late)
    assert of_attendees(plans, evening, late).ends == link.ends


def test_a_link_made_in_time_ends_with_its_workshop_however_that_moves(plans, evening) -> None:
    make_links(plans, evening, ["attendee"], ENDS + KEPT_FOR - ALMOST)
    with plans.reading() as s:
        assert shares_of(s, evening)["attendee"].expires_at is None
    assert of_attendees(plans, evening, NOW).typed == ""
    assert links_page(plans, SECRET, evening, NOW).links[1].ends == ""


def test_a_new_one_for_a_link_that_is_over_is_not_over_at_once(plans, evening, link) -> None:
    late = ENDS + timedelta(days=30)
    assert of_attendees(plans, evening, late).over
    renew_link(plans, evening, "attendee", link.version, late)
    again = of_attendees(plans, evening, late)
    assert opens(plans, again.token, late)
    assert not opens(plans, link.token, late)
    set_end(plans, evening, "attendee", again.version, f"{ENDS + timedelta(days=60):%Y-%m-%d}", late)
    kept = of_attendees(plans, evening, late)
    renew_link(plans, evening, "attendee", kept.version, late)
    assert of_attendees(plans, evening, late).ends == kept.ends


@pytest.mark.parametrize("typed", ["soon", "31.2.", "2026-13-01", "20 Oct 2099", "<b>", "0"])
def test_a_day_that_cannot_be_is_refused(plans, evening, link, typed) -> None:
    with pytest.raises(InputProblem) as problem:
        set_end(plans, evening, "attendee", link.version, typed, NOW)
    assert problem.value.field == "ends"
    assert of_attendees(plans, evening) == link


def test_the_link_of_a_deleted_workshop_opens_nothing_and_comes_back_with_it(plans, evening, link) -> None:
    with plans.writing() as s:
        rules.delete_workshop(s, evening, rules.get_workshop(s, evening).version, now=NOW)
    assert not opens(plans, link.token)
    with plans.writing() as s:
        rules.restore_workshop(s, evening)
    assert opens(plans, link.token)


@pytest.mark.parametrize("reader", ["", "organiser", "Attendee", "attendee ", "<b>"])
def test_nobody_else_gets_a_link(plans, evening, reader) -> None:
    with pytest.raises(InputProblem):
        make_links(plans, evening, [reader], NOW)
    with pytest.raises(InputProblem):
        renew_link(plans, evening, reader, 1, NOW)


def test_what_was_never_made_cannot_be_changed(plans, evening) -> None:
    with pytest.raises(Missing):
        renew_link(plans, evening, "helper", 1, NOW)
    with pytest.raises(Missing):
        links_page(plans, SECRET, 999, NOW)
    with pytest.raises(Missing):
        make_links(plans, 999, ["helper"], NOW)


@pytest.mark.parametrize("changed", [{"reader": "guard"}, {"generation": 0}, {"salt": "short"}])
def test_a_row_that_makes_no_sense_is_not_kept(changed) -> None:
    draft = {"workshop_id": 1, "reader": "model", "salt": "0" * 32} | changed
    with pytest.raises(InputProblem):
        checked_share(ShareDraft(**draft))


@given(typed=st.text(max_size=50) | st.from_regex(r"\A[0-9]{1,12}-[a-z2-7]{32}\Z"))
def test_no_other_word_opens_anything(shared_plans, typed) -> None:
    with shared_plans.reading() as s:
        none_yet = not shelf.count(s)
    if none_yet:
        make_links(shared_plans, keep_evening(shared_plans)[0], READERS, NOW)
    assert not opens(shared_plans, typed)


@given(at=st.integers(0, 33), sign=st.sampled_from("abcdefghijklmnopqrstuvwxyz234567-01٣A "))
def test_one_letter_off_is_wrong(shared_plans, at, sign) -> None:
    with shared_plans.reading() as s:
        made = shares_of(s, 1)
    if not made:
        make_links(shared_plans, keep_evening(shared_plans)[0], READERS, NOW)
    token = token_of(shared_plans, SECRET, 1, "attendee", NOW)
    other = f"{token[:at]}{sign}{token[at + 1 :]}"
    assert opens(shared_plans, other) is (other == token)
