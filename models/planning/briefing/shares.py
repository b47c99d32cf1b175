"""Links to briefings that nobody can guess: made, shown again, ended by a day or by making a new one.

A link ends in "7-" and 32 letters: the number of its row, then the first 160 bits of an HMAC-SHA-256 over that row in
base32 (RFC 4648, small letters). Its key is made from the program's kept secret for this purpose alone. So the number
finds the workshop, nothing in the database opens it, and the link can be shown and printed again as often as is wanted.
"""

from __future__ import annotations

import hmac
import re
import secrets
from base64 import b32encode
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from sqlalchemy.orm import Session

from models.clock import day_words, local_day, time_words, to_local
from models.planning.rules.typed import read_day
from models.problems import InputProblem
from models.rules.workshop import Workshop
from models.store.engine import Store
from models.store.rules.workshops import get_workshop
from models.store.shares import shares_of, shelf
from models.store.spots import shelf as spots
from models.store.versions import Missing
from models.workshop.briefing import READERS, Reader
from models.workshop.share import KEPT_FOR, Share, ShareDraft, ends_at

PURPOSE = b"kerbstand: the link of a briefing"
MAC_BYTES = 20
LATEST = timedelta(days=366)
"""After the workshop: no link outlives it by more, our house rule; but one made later still works for KEPT_FOR."""

_TOKEN = re.compile(r"([0-9]{1,10})-[a-z2-7]{32}", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReaderLink:
    """What the organiser sees of one kind of reader. token: None as long as no link was made. ends: as words;
    where none was made, that of one made now for a workshop that is long over, else ''.

    typed: the day in the form, '' for the usual one. over: it answers no more.
    """

    reader: Reader
    token: str | None = None
    version: int = 0
    ends: str = ""
    typed: str = ""
    over: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LinksPage:
    workshop: Workshop
    links: tuple[ReaderLink, ...]


def share_token(secret: str, share: Share) -> str:
    """What stands at the end of the link."""
    key = hmac.digest(secret.encode(), PURPOSE, "sha256")
    of_it = (share.id, share.workshop_id, share.reader, share.generation, share.salt)
    mac = hmac.digest(key, "\n".join(map(str, of_it)).encode(), "sha256")
    return f"{share.id}-{b32encode(mac[:MAC_BYTES]).decode().lower()}"


def shared(store: Store, secret: str, token: str, now: datetime) -> Share:
    """The link that a token belongs to. Raises Missing, alike for one that never was, was replaced, or has ended."""
    found = _TOKEN.fullmatch(token)
    number = int(found[1]) if found else 0
    with store.reading() as s:
        share = shelf.get(s, number)
        ends = ends_at(share, get_workshop(s, share.workshop_id).ends)
    if not hmac.compare_digest(token.encode(), share_token(secret, share).encode()) or now >= ends:
        raise Missing(number, shelf.what)
    return share


def token_of(store: Store, secret: str, workshop_id: int, reader: Reader, now: datetime) -> str | None:
    """The token of a link that works, None where none was made or it has ended. Raises Missing for no workshop."""
    found = next(each for each in links_page(store, secret, workshop_id, now).links if each.reader == reader)
    return None if found.over else found.token


def links_page(store: Store, secret: str, workshop_id: int, now: datetime) -> LinksPage:
    """Raises Missing."""
    with store.reading() as s:
        workshop = get_workshop(s, workshop_id)
        zone = spots.find(s, workshop.spot_id)[0].zone
        made, first = shares_of(s, workshop_id), _first_end(s, workshop, now)
    unmade = _end_words(first, zone) if first else ""
    links = []
    for reader in READERS:
        share = made.get(reader)
        links.append(_shown(secret, share, workshop, zone, now) if share else ReaderLink(reader=reader, ends=unmade))
    return LinksPage(workshop=workshop, links=tuple(links))


def make_links(store: Store, workshop_id: int, readers: Iterable[str], now: datetime) -> None:
    """A link for each that has none; the others keep theirs. Raises Missing, InputProblem.

    None is over when it is made: for a workshop over for longer than KEPT_FOR it works so long from today.
    """
    wanted = [read_reader(each) for each in readers]
    with store.writing() as s:
        ends = _first_end(s, get_workshop(s, workshop_id), now)
        made = shares_of(s, workshop_id)
        for reader in wanted:
            if reader not in made:
                salt = secrets.token_hex(16)
                shelf.add(s, ShareDraft(workshop_id=workshop_id, reader=reader, salt=salt, expires_at=ends))


def renew_link(store: Store, workshop_id: int, reader: str, version: int, now: datetime) -> None:
    """A new link; the old one never works again. One whose time is over works as long as one made for the first time.

    Raises Missing, Clash, InputProblem.
    """
    with store.writing() as s:
        workshop, share = get_workshop(s, workshop_id), _made(s, workshop_id, reader)
        over = now >= ends_at(share, workshop.ends)
        ends = _first_end(s, workshop, now) if over else share.expires_at
        shelf.change(s, share.id, version, replace(share, generation=share.generation + 1, expires_at=ends))


def set_end(store: Store, workshop_id: int, reader: str, version: int, typed: str, now: datetime) -> None:
    """The last day on which the link works, as typed; '' for the usual one. Raises Missing, Clash, InputProblem."""
    with store.writing() as s:
        workshop = get_workshop(s, workshop_id)
        zone = spots.find(s, workshop.spot_id)[0].zone
        share = _made(s, workshop_id, reader)
        ends = _read_end(typed, workshop, zone, now)
        shelf.change(s, share.id, version, replace(share, expires_at=ends))


def read_reader(text: str) -> Reader:
    """Raises InputProblem('reader')."""
    for reader in READERS:
        if text == reader:
            return reader
    raise InputProblem("reader", "Say for whom the link is: attendee, model or helper.")


def _made(s: Session, workshop_id: int, reader: str) -> Share:
    share = shares_of(s, workshop_id).get(read_reader(reader))
    if share is None:
        raise Missing(reader, shelf.what)
    return share


def _shown(secret: str, share: Share, workshop: Workshop, zone: str, now: datetime) -> ReaderLink:
    ends = ends_at(share, workshop.ends)
    last = to_local(ends - timedelta(seconds=1), zone).date()
    return ReaderLink(
        reader=share.reader,
        token=share_token(secret, share),
        version=share.version,
        ends=_end_words(ends, zone) if share.expires_at else f"{day_words(last)}, {time_words(ends, zone)}",
        typed=last.isoformat() if share.expires_at else "",
        over=now >= ends,
    )


def _end_words(ends: datetime, zone: str) -> str:
    """Of one that ends with a day."""
    return f"the end of {day_words(to_local(ends - timedelta(seconds=1), zone).date())}"


def _first_end(s: Session, workshop: Workshop, now: datetime) -> datetime | None:
    """None for the usual end where that is still to come."""
    if now < workshop.ends + KEPT_FOR:
        return None
    zone = spots.find(s, workshop.spot_id)[0].zone
    return _from_today(zone, now)


def _from_today(zone: str, now: datetime) -> datetime:
    return local_day(to_local(now, zone).date() + KEPT_FOR, zone)[1]


def _read_end(typed: str, workshop: Workshop, zone: str, now: datetime) -> datetime | None:
    """A day that is over ends the link at once."""
    if not typed.strip():
        return None
    day = read_day("ends", typed, to_local(now, zone).date())
    ends = local_day(day, zone)[1]
    if ends > max(workshop.ends + LATEST, _from_today(zone, now)):
        raise InputProblem("ends", "That is more than a year after the workshop. Choose an earlier day.")
    return ends
