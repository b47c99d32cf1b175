"""Signing in and out, links that work once, and who stands behind a cookie.

Tokens are 256 random bits; of each only its SHA-256 is kept, which tells nothing and needs no salt at that length.
"""

from __future__ import annotations

import hashlib
import secrets
from contextlib import suppress
from dataclasses import replace
from datetime import datetime, timedelta

from sqlalchemy.exc import OperationalError
from sqlalchemy.orm import Session

from models.planning.account.passphrase import checked_passphrase, hashed, matches
from models.problems import InputProblems
from models.store import account as kept
from models.store.account import SignIn
from models.store.engine import Store
from models.words.browser import browser_words

TOKEN_BYTES = 32
LINK_LASTS = timedelta(hours=1)
IDLE = timedelta(days=30)
LONGEST = timedelta(days=365)
"""A sign-in ends when nobody came for so long, or after so long in all."""

SEEN_STEP = timedelta(minutes=5)
PATIENCE_MS = 50
WRONG = "That is not the passphrase."


class LinkOver(Exception):
    """The link was used, is too old, or never was one."""


def has_passphrase(store: Store) -> bool:
    with store.reading() as s:
        return kept.get_account(s).passphrase_hash is not None


def last_address(store: Store) -> str:
    """Where the program last answered beyond this machine, '' for nowhere yet."""
    with store.reading() as s:
        return kept.get_account(s).address


def note_address(store: Store, address: str) -> None:
    with store.writing() as s:
        kept.set_address(s, address)


def new_link(store: Store, now: datetime) -> str:
    """A token that is good for one choice of a passphrase within LINK_LASTS; any earlier one ends."""
    token = secrets.token_urlsafe(TOKEN_BYTES)
    with store.writing() as s:
        _purge(s, now)
        kept.add_link(s, _hash(token), now, now + LINK_LASTS)
    return token


def link_is_good(store: Store, token: str, now: datetime) -> bool:
    with store.reading() as s:
        return kept.link_is_good(s, _hash(token), now)


def choose_passphrase(
    store: Store, link: str, typed: str, again: str, *, user_agent: str, now: datetime, method: str
) -> str:
    """Keep it, end every sign-in and begin one: its token. Raises LinkOver, or InputProblems: the link stays good."""
    if not link_is_good(store, link, now):
        raise LinkOver
    new = hashed(checked_passphrase(typed, again), method)
    with store.writing() as s:
        if not kept.use_link(s, _hash(link), now):
            raise LinkOver
        return _start_anew(s, new, user_agent, now)


def sign_in(store: Store, typed: str, *, user_agent: str, now: datetime, method: str) -> str | None:
    """The token of a new sign-in, None for a wrong passphrase."""
    with store.reading() as s:
        known = kept.get_account(s).passphrase_hash
    if not matches(typed, known, method):
        return None
    with store.writing() as s:
        if kept.get_account(s).passphrase_hash != known:
            return None  # changed meanwhile
        return _begin(s, user_agent, now)


def who(store: Store, token: str, now: datetime) -> SignIn | None:
    """The sign-in behind a token, None for none that still holds. That it was seen is noted every SEEN_STEP."""
    with store.reading() as s:
        found = kept.find_sign_in(s, _hash(token))
    if found is None or found.seen_at < now - IDLE or found.began_at < now - LONGEST:
        return None
    if now - found.seen_at < SEEN_STEP:
        return found
    with suppress(OperationalError), store.writing(PATIENCE_MS) as s:  # somebody is saving: the next page notes it
        kept.note_seen(s, found.id, now)
        _purge(s, now)
    return replace(found, seen_at=now)


def change_passphrase(
    store: Store, current: str, typed: str, again: str, *, user_agent: str, now: datetime, method: str
) -> str:
    """Keep the new one, end every sign-in and begin one: its token. Raises InputProblems."""
    with store.reading() as s:
        known = kept.get_account(s).passphrase_hash
    if not matches(current, known, method):
        raise InputProblems({"current": WRONG})
    new = hashed(checked_passphrase(typed, again), method)
    with store.writing() as s:
        if kept.get_account(s).passphrase_hash != known:
            raise InputProblems({"current": WRONG})
        return _start_anew(s, new, user_agent, now)


def end(store: Store, sign_in_id: int) -> bool:
    """Sign one browser out. Whether it was signed in."""
    with store.writing() as s:
        return kept.end_sign_in(s, sign_in_id)


def end_others(store: Store, sign_in_id: int | None) -> int:
    """Sign out every browser but this one, or with None every one; how many."""
    with store.writing() as s:
        return kept.end_sign_ins(s, but=sign_in_id)


def _start_anew(s: Session, passphrase_hash: str, user_agent: str, now: datetime) -> str:
    kept.set_passphrase(s, passphrase_hash, now)
    kept.end_sign_ins(s)
    return _begin(s, user_agent, now)


def _begin(s: Session, user_agent: str, now: datetime) -> str:
    token = secrets.token_urlsafe(TOKEN_BYTES)
    _purge(s, now)
    kept.add_sign_in(s, _hash(token), now, browser_words(user_agent))
    return token


def _purge(s: Session, now: datetime) -> None:
    kept.purge(s, at=now, seen_since=now - IDLE, begun_since=now - LONGEST)


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()
