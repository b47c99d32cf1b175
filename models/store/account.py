"""Who gets in: one passphrase, links that work once to choose it, and where somebody is signed in.

Of passphrase, link and signed-in browser only a hash is kept. Nothing here reads the clock or makes a secret.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from datetime import datetime
from typing import Any

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.types import UtcDateTime, metadata
from models.store.versions import MOST_NUMBER

account = sa.Table(
    "account",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("passphrase_hash", sa.Text),
    sa.Column("passphrase_set_at", UtcDateTime),
    sa.Column("address", sa.Text),
    sa.CheckConstraint("id = 1", name="only_one"),
)
"""One row at most. address: where the program last answered, for links made in the terminal."""

links = sa.Table(
    "sign_in_links",
    metadata,
    sa.Column("token_hash", sa.Text, primary_key=True),
    sa.Column("made_at", UtcDateTime, nullable=False),
    sa.Column("ends_at", UtcDateTime, nullable=False),
)

sign_ins = sa.Table(
    "sign_ins",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("token_hash", sa.Text, nullable=False),
    sa.Column("began_at", UtcDateTime, nullable=False),
    sa.Column("seen_at", UtcDateTime, nullable=False),
    sa.Column("browser", sa.Text, nullable=False),
    sa.UniqueConstraint("token_hash"),
    sqlite_autoincrement=True,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """passphrase_hash: None until one was chosen. address: where the program last answered, '' for nowhere yet."""

    passphrase_hash: str | None = None
    passphrase_set_at: datetime | None = None
    address: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SignIn:
    """A browser that is signed in. seen_at is kept to some minutes."""

    id: int
    began_at: datetime
    seen_at: datetime
    browser: str


def get_account(s: Session) -> Account:
    row = s.execute(sa.select(account)).one_or_none()
    if row is None:
        return Account()
    return Account(
        passphrase_hash=row.passphrase_hash, passphrase_set_at=row.passphrase_set_at, address=row.address or ""
    )


def set_passphrase(s: Session, passphrase_hash: str, at: datetime) -> None:
    _put(s, {"passphrase_hash": passphrase_hash, "passphrase_set_at": at})


def set_address(s: Session, address: str) -> None:
    _put(s, {"address": address})


def add_link(s: Session, token_hash: str, made_at: datetime, ends_at: datetime) -> None:
    """The only one: any earlier link ends."""
    s.execute(sa.delete(links))
    s.execute(sa.insert(links).values(token_hash=token_hash, made_at=made_at, ends_at=ends_at))


def link_is_good(s: Session, token_hash: str, at: datetime) -> bool:
    query = sa.select(links.c.token_hash).where(links.c.token_hash == token_hash, links.c.ends_at > at)
    return s.execute(query).one_or_none() is not None


def use_link(s: Session, token_hash: str, at: datetime) -> bool:
    """Whether it was good until now; it never is again."""
    query = sa.delete(links).where(links.c.token_hash == token_hash, links.c.ends_at > at)
    return s.execute(query.returning(links.c.token_hash)).one_or_none() is not None


def add_sign_in(s: Session, token_hash: str, at: datetime, browser: str) -> None:
    s.execute(sa.insert(sign_ins).values(token_hash=token_hash, began_at=at, seen_at=at, browser=browser))


def find_sign_in(s: Session, token_hash: str) -> SignIn | None:
    row = s.execute(sa.select(*_SHOWN).where(sign_ins.c.token_hash == token_hash)).one_or_none()
    return SignIn(**row._mapping) if row else None


def list_sign_ins(s: Session) -> tuple[SignIn, ...]:
    """The one seen last first."""
    query = sa.select(*_SHOWN).order_by(sign_ins.c.seen_at.desc(), sign_ins.c.id.desc())
    return tuple(SignIn(**row._mapping) for row in s.execute(query))


def note_seen(s: Session, sign_in_id: int, at: datetime) -> None:
    s.execute(sa.update(sign_ins).where(sign_ins.c.id == sign_in_id).values(seen_at=at))


def end_sign_in(s: Session, sign_in_id: int) -> bool:
    """Whether there was one."""
    query = sa.delete(sign_ins).where(sign_ins.c.id == min(sign_in_id, MOST_NUMBER))
    return s.execute(query.returning(sign_ins.c.id)).one_or_none() is not None


def end_sign_ins(s: Session, *, but: int | None = None) -> int:
    """All, or all but one; how many."""
    query = sa.delete(sign_ins) if but is None else sa.delete(sign_ins).where(sign_ins.c.id != but)
    return len(s.execute(query.returning(sign_ins.c.id)).all())


def purge(s: Session, *, at: datetime, seen_since: datetime, begun_since: datetime) -> None:
    """Throw away sign-ins that were seen last, or began, before these instants, and links that have ended by `at`."""
    s.execute(sa.delete(sign_ins).where((sign_ins.c.seen_at < seen_since) | (sign_ins.c.began_at < begun_since)))
    s.execute(sa.delete(links).where(links.c.ends_at <= at))


_SHOWN = [sign_ins.c[each.name] for each in fields(SignIn)]


def _put(s: Session, values: dict[str, Any]) -> None:
    changed = s.execute(sa.update(account).values(**values).returning(account.c.id)).one_or_none()
    if changed is None:
        s.execute(sa.insert(account).values(id=1, **values))
