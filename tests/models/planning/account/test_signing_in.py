"""Links that work once, sign-ins that end, and a database that holds no secret."""

from __future__ import annotations

import sqlite3
from base64 import urlsafe_b64decode
from datetime import UTC, datetime, timedelta

import pytest
import sqlalchemy as sa

from models.planning.account import signing_in as account
from models.planning.account.page import account_page
from models.problems import InputProblems
from models.store.account import list_sign_ins
from models.store.engine import Store
from tests.models.planning.account.test_passphrase import FAST, GOOD

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
FIREFOX = "Mozilla/5.0 (Windows NT 10.0; rv:130.0) Gecko/20100101 Firefox/130.0"
LATER = timedelta(minutes=20)
WHO = {"user_agent": FIREFOX, "method": FAST}


@pytest.fixture
def store(plans: Store) -> Store:
    return plans


def choose(store: Store, words: str = GOOD, now: datetime = NOW) -> str:
    return account.choose_passphrase(store, account.new_link(store, now), words, words, now=now, **WHO)


def sign_in(store: Store, words: str = GOOD, now: datetime = NOW) -> str:
    token = account.sign_in(store, words, now=now, **WHO)
    assert token is not None
    return token


def test_a_link_is_good_once(store):
    link = account.new_link(store, NOW)
    assert account.link_is_good(store, link, NOW)
    token = account.choose_passphrase(store, link, GOOD, GOOD, now=NOW, **WHO)
    assert account.who(store, token, NOW).browser == "Firefox on Windows"
    assert not account.link_is_good(store, link, NOW)
    with pytest.raises(account.LinkOver):
        account.choose_passphrase(store, link, "another good one", "another good one", now=NOW, **WHO)
    assert account.sign_in(store, GOOD, now=NOW, **WHO) is not None


def test_a_link_is_good_for_an_hour(store):
    link = account.new_link(store, NOW)
    assert account.link_is_good(store, link, NOW + timedelta(minutes=59))
    late = NOW + timedelta(minutes=60)
    assert not account.link_is_good(store, link, late)
    with pytest.raises(account.LinkOver):
        account.choose_passphrase(store, link, GOOD, GOOD, now=late, **WHO)
    assert not account.has_passphrase(store)


def test_a_new_link_ends_the_one_before(store):
    first, second = account.new_link(store, NOW), account.new_link(store, NOW)
    assert not account.link_is_good(store, first, NOW)
    assert account.link_is_good(store, second, NOW)


def test_a_passphrase_that_will_not_do_leaves_the_link_good(store):
    link = account.new_link(store, NOW)
    with pytest.raises(InputProblems):
        account.choose_passphrase(store, link, "short", "short", now=NOW, **WHO)
    assert account.link_is_good(store, link, NOW)


@pytest.mark.parametrize("link", ["", "x", "\0", "\ud800", "é" * 5000, "' OR 1=1 --"])
def test_no_other_link_is_good(store, link):
    account.new_link(store, NOW)
    assert not account.link_is_good(store, link, NOW)


def test_tokens_are_long_and_never_the_same(store):
    tokens = {account.new_link(store, NOW) for _ in range(20)} | {choose(store)}
    assert len(tokens) == 21
    assert {len(urlsafe_b64decode(token + "=")) * 8 for token in tokens} == {256}


def test_the_database_holds_neither_passphrase_nor_token(store):
    secrets = [choose(store), sign_in(store), account.new_link(store, NOW), GOOD]
    with sqlite3.connect(store.engine.url.database) as connection:
        dump = "\n".join(connection.iterdump())
    connection.close()
    assert "scrypt:128:1:1$" in dump
    assert [secret for secret in secrets if secret in dump] == []


def test_a_wrong_passphrase_begins_nothing(store):
    choose(store)
    assert account.sign_in(store, "not this one either", now=NOW, **WHO) is None
    with store.reading() as s:
        assert len(list_sign_ins(s)) == 1


def test_choosing_anew_signs_every_browser_out(store):
    tokens = [choose(store), sign_in(store)]
    new = choose(store, "quay lane bridge yard")
    assert [account.who(store, token, NOW) for token in tokens] == [None, None]
    assert account.who(store, new, NOW)
    assert account.sign_in(store, GOOD, now=NOW, **WHO) is None


def test_changing_it_signs_the_others_out_and_gives_this_one_a_new_token(store):
    mine, other = choose(store), sign_in(store)
    with pytest.raises(InputProblems) as wrong:
        account.change_passphrase(store, "wrong", "quay lane bridge yard", "quay lane bridge yard", now=NOW, **WHO)
    assert list(wrong.value.by_field) == ["current"]
    new = account.change_passphrase(store, GOOD, "quay lane bridge yard", "quay lane bridge yard", now=NOW, **WHO)
    assert [bool(account.who(store, token, NOW)) for token in (mine, other, new)] == [False, False, True]


def test_a_sign_in_ends_after_thirty_days_of_nobody(store):
    token = choose(store)
    assert account.who(store, token, NOW + timedelta(days=29)).seen_at == NOW + timedelta(days=29)
    assert account.who(store, token, NOW + timedelta(days=58))
    assert account.who(store, token, NOW + timedelta(days=89)) is None


def test_and_after_a_year_in_all(store):
    token, at = choose(store), NOW
    while at - NOW < timedelta(days=364):
        at += timedelta(days=14)
        found = account.who(store, token, at)
        assert bool(found) == (at - NOW <= timedelta(days=365))
    assert account.who(store, token, NOW + timedelta(days=366)) is None


def test_what_has_ended_is_thrown_away(store):
    choose(store)
    account.new_link(store, NOW)
    sign_in(store, now=NOW + timedelta(days=31))
    with store.reading() as s:
        assert [row.began_at for row in list_sign_ins(s)] == [NOW + timedelta(days=31)]
        assert s.scalar(sa.text("SELECT count(*) FROM sign_in_links")) == 0


def test_that_it_was_seen_is_noted_every_five_minutes(store):
    token = choose(store)
    account.who(store, token, NOW + timedelta(minutes=4))
    with store.reading() as s:
        assert list_sign_ins(s)[0].seen_at == NOW
    account.who(store, token, NOW + timedelta(minutes=6))
    with store.reading() as s:
        assert list_sign_ins(s)[0].seen_at == NOW + timedelta(minutes=6)


def test_nobody_waits_while_somebody_else_saves(store):
    token = choose(store)
    with store.writing():
        assert account.who(store, token, NOW + LATER)


def test_one_or_all_others_are_ended(store):
    tokens = [choose(store), sign_in(store), sign_in(store), sign_in(store)]
    ids = [account.who(store, token, NOW).id for token in tokens]
    assert account.end(store, ids[1])
    assert not account.end(store, ids[1])
    assert not account.end(store, 10**30)
    assert account.end_others(store, ids[0]) == 2
    assert [bool(account.who(store, token, NOW)) for token in tokens] == [True, False, False, False]


def test_a_number_is_never_given_again(store):
    first = account.who(store, choose(store), NOW).id
    assert account.end(store, first)
    assert account.who(store, sign_in(store), NOW).id > first


def test_the_page_says_who_is_signed_in(store):
    mine = account.who(store, choose(store), NOW)
    sign_in(store, now=NOW + LATER)
    page = account_page(store, mine, asked=True, now=NOW + LATER)
    assert page.answer == (
        "This browser has been signed in since 14:40 on 17 October 2026, UTC. One other browser is signed in."
    )
    assert [row.this for row in page.rows] == [False, True]
    assert {row.browser for row in page.rows} == {"Firefox on Windows"}
    assert page.rows[0].seen == "15:00 on 17 October 2026, UTC"


def test_the_page_says_that_sign_in_is_off(store):
    bare = account_page(store, None, asked=False, now=NOW)
    assert bare.answer == "Sign-in is off and no passphrase is chosen: only this machine is answered."
    choose(store)
    assert "asked for no passphrase. One browser is signed in." in account_page(store, None, False, NOW).answer
