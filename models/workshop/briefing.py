"""A briefing: what one kind of reader is told of a workshop. Only the shapes of it.

All readers are told from the same facts, each in a voice of their own. Nobody's name or number stands in a briefing but
the organiser's and those whom the organiser named to talk or to help.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal, get_args

Reader = Literal["attendee", "model", "helper"]
READERS: tuple[Reader, ...] = get_args(Reader)
Standing = Literal["on", "called off", "moved"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """latitude and longitude in degrees; words to find it by, '' where none are written down."""

    name: str
    latitude_deg: float
    longitude_deg: float
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedBlock:
    """A block of the running order. key: as models.workshop.running_order has it."""

    key: str
    title: str
    starts: datetime
    ends: datetime
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StationTold:
    """Never with the name of its model. settings, powers: as dialled at the start, '' and none where no setup is chosen
    or its light is not known; reason: why these, with the light they are for, or why there are none."""

    name: str
    setup: str
    setup_id: int | None
    settings: str
    powers: tuple[str, ...]
    lesson: str
    place: Place | None
    reason: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """All that any reader is told, before it is put in words. Instants are UTC, zone is that of the spot.

    paragraphs: the standard ones by key, as edited and filled in; those left empty are not said. fallback: the first
    spot to go to instead. goes_to: where people walk when asked to stop, '' where no fallback is under another guard.
    frames: a turn. group: everyone who stands there. facilities: near the spot. talks: to whoever asks the group to
    stop. carry: papers; charge: what to charge; cells: the battery plan; kit: what each station needs; enquiries: (to
    whom, reference, state, conditions). hazards: all lines of the sheet; cautions: those known of this place and hour.
    rests: of the models, by station. leaf: what is done when things go wrong. redials: what is dialled after the first
    frame, as the light moves.
    """

    workshop_id: int
    title: str
    spot: Place
    zone: str
    starts: datetime
    ends: datetime
    called_off: bool
    meeting: Place | None
    indoors: str
    fallback: Place | None
    decide_by: datetime | None
    blocks: tuple[TimedBlock, ...]
    stations: tuple[StationTold, ...]
    frames: int | None
    group_size: int
    organiser: str
    contact: str
    talks: str
    ambulance: str
    weather: str
    light: str
    bring: tuple[str, ...]
    carry: tuple[str, ...]
    charge: tuple[str, ...]
    enquiries: tuple[tuple[str, str, str, str], ...]
    hazards: tuple[str, ...]
    leaf: tuple[str, ...]
    paragraphs: dict[str, str]
    walk: str = ""
    language: str = "en"
    group: int = 0
    facilities: str = ""
    wear: tuple[str, ...] = ()
    bring_models: tuple[str, ...] = ()
    kit: tuple[str, ...] = ()
    cells: tuple[str, ...] = ()
    rests: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    emergency: str = ""
    first_aider: str = ""
    spares: str = ""
    goes_to: str = ""
    redials: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Section:
    """One heading with what stands under it, in that order: paragraphs, items, table. drawings: setups by number, whose
    plan belongs here. sketch: the map sketch belongs here."""

    key: str
    title: str
    paragraphs: tuple[str, ...] = ()
    items: tuple[str, ...] = ()
    table: Table | None = None
    drawings: tuple[int, ...] = ()
    sketch: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Briefing:
    """What one reader gets.

    standing: said first where it is not on; instead: before it, when and where people meet now where it was moved.
    changes: since the versions before, in words, at the top for those who read them. answer: when and where, in one or
    two sentences. issued: None for one not issued yet.
    """

    reader: Reader
    version: int
    issued: date | None
    standing: Standing
    title: str
    answer: str
    changes: tuple[str, ...]
    sections: tuple[Section, ...]
    meeting: Place | None
    spot: Place
    starts: datetime
    ends: datetime
    zone: str
    instead: str = ""
