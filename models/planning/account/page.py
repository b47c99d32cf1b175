"""The account page: whether sign-in is on, which browsers are signed in, and since when the passphrase holds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from models.clock import to_local, zone_short
from models.planning.account.signing_in import IDLE, LONGEST
from models.planning.spots import home_zone
from models.store import account as kept
from models.store.account import SignIn
from models.store.engine import Store


@dataclass(frozen=True, slots=True)
class Row:
    """A signed-in browser. began, seen: as the clocks at the spots show it."""

    id: int
    browser: str
    this: bool
    began_at: datetime
    began: str
    seen_at: datetime
    seen: str


@dataclass(frozen=True, slots=True)
class AccountPage:
    answer: str
    asked: bool
    has_passphrase: bool
    passphrase_since: str
    rows: tuple[Row, ...]
    zone: str
    idle_days: int


def account_page(store: Store, mine: SignIn | None, asked: bool, now: datetime) -> AccountPage:
    """mine: the sign-in of the browser that asks. asked: whether the program asks for the passphrase."""
    zone = home_zone(store)
    with store.reading() as s:
        account = kept.get_account(s)
        found = [row for row in kept.list_sign_ins(s) if row.seen_at >= now - IDLE and row.began_at >= now - LONGEST]
    rows = tuple(_row(each, mine, zone) for each in found)
    since = account.passphrase_set_at
    return AccountPage(
        answer=_answer(rows, asked, account.passphrase_hash is not None),
        asked=asked,
        has_passphrase=account.passphrase_hash is not None,
        passphrase_since=_when(since, zone) if since else "",
        rows=rows,
        zone=zone,
        idle_days=IDLE.days,
    )


def _row(each: SignIn, mine: SignIn | None, zone: str) -> Row:
    this = mine is not None and each.id == mine.id
    began, seen = _when(each.began_at, zone), _when(each.seen_at, zone)
    return Row(each.id, each.browser, this, each.began_at, began, each.seen_at, seen)


def _answer(rows: tuple[Row, ...], asked: bool, chosen: bool) -> str:
    others = sum(not row.this for row in rows)
    mine = next((row for row in rows if row.this), None)
    if mine:
        more = {0: "No other browser is", 1: "One other browser is"}.get(others, f"{others} other browsers are")
        return f"This browser has been signed in since {mine.began}. {more} signed in."
    if asked or chosen:
        count = {0: "No browser is", 1: "One browser is"}.get(others, f"{others} browsers are")
        return f"Sign-in is off: only this machine is answered, and it is asked for no passphrase. {count} signed in."
    return "Sign-in is off and no passphrase is chosen: only this machine is answered."


def _when(instant: datetime, zone: str) -> str:
    local = to_local(instant, zone)
    return f"{local:%H:%M} on {local.day} {local:%B %Y}, {zone_short(instant, zone)}"
