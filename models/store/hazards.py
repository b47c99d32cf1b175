"""Hazard sheets, one a workshop: its lines as edited, whom to call, what was looked at, the weather as typed."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from datetime import UTC, datetime

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.store.rules.tables import workshops as workshop_rows
from models.store.rules.workshops import shelf as workshops
from models.store.spots import spots
from models.store.types import AsJson, TupleAsJson, UtcDateTime, metadata
from models.store.versions import Shelf
from models.street.weather import WeatherHour, checked_weather
from models.words.hazards import prefilled
from models.workshop.hazards import EMERGENCY, HazardLine, HazardSheet, Situation, checked_sheet, renewed


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """Whether it stands there; None where nobody has looked. The fields are some of workshop.hazards.Situation."""

    carriageway: bool | None = None
    cycle_lane: bool | None = None
    railway: bool | None = None
    water: bool | None = None
    drop: bool | None = None
    uneven: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedHour:
    """The weather of the hour as somebody typed it in; None: not given. The fields are those of WeatherHour."""

    oktas: float | None = None
    wind_m_s: float | None = None
    gust_m_s: float | None = None
    temperature_c: float | None = None
    humidity_pct: float | None = None
    rain_mm: float | None = None

    def at(self, starts: datetime) -> WeatherHour | None:
        """None where nothing was typed."""
        values = {field.name: getattr(self, field.name) for field in fields(self)}
        return WeatherHour(starts=starts, **values) if self.given else None

    @property
    def given(self) -> bool:
        """Whether anything was."""
        return self != TypedHour()

    @classmethod
    def of(cls, hour: WeatherHour | None) -> TypedHour:
        """The figures of an hour."""
        return cls(**{field.name: getattr(hour, field.name, None) for field in fields(cls)})


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDraft:
    """filled: the weather kept for the spot that its lines were filled in from, where none was typed in the sheet.

    noted: what was noted at the spot when it was kept; None where the sheet is older than its remembering that.
    """

    workshop_id: int
    lines: tuple[HazardLine, ...]
    emergency_number: str = ""
    first_aider: str = ""
    ambulance_address: str = ""
    looked: Looked = Looked()
    hour: TypedHour = TypedHour()
    filled: TypedHour | None = None
    noted: str | None = None

    @property
    def filled_from(self) -> TypedHour:
        """The weather its lines were filled in from."""
        return self.hour if self.hour.given or self.filled is None else self.filled

    @property
    def sheet(self) -> HazardSheet:
        return HazardSheet(lines=self.lines, **{name: getattr(self, name) for name in EMERGENCY})


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptSheet(SheetDraft):
    """A sheet as kept."""

    id: int
    version: int


sheets = sa.Table(
    "hazard_sheets",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("workshop_id", sa.Integer, sa.ForeignKey("workshops.id", ondelete="CASCADE"), nullable=False),
    sa.Column("lines", TupleAsJson(HazardLine), nullable=False),
    sa.Column("emergency_number", sa.Text, nullable=False),
    sa.Column("first_aider", sa.Text, nullable=False),
    sa.Column("ambulance_address", sa.Text, nullable=False),
    sa.Column("looked", AsJson(Looked), nullable=False),
    sa.Column("hour", AsJson(TypedHour), nullable=False),
    sa.Column("filled", AsJson(TypedHour)),
    sa.Column("noted", sa.Text),
    sa.Column("deleted_at", UtcDateTime),
    sa.Index(None, "workshop_id"),
    sqlite_autoincrement=True,
)


def checked_draft(draft: SheetDraft) -> SheetDraft:
    """The draft with its texts trimmed, or InputProblem naming the field; a line's is called 'lines 3'."""
    hour = draft.hour.at(datetime(2000, 1, 1, tzinfo=UTC))
    if hour is not None:
        checked_weather(hour)
    good = checked_sheet(draft.sheet)
    return replace(draft, lines=good.lines, **{name: getattr(good, name) for name in EMERGENCY})


shelf = Shelf[SheetDraft, KeptSheet](
    what="hazards sheet", table=sheets, kept=KeptSheet, check=checked_draft, links={"workshop_id": workshops}
)


def sheet_of(s: Session, workshop_id: int) -> KeptSheet | None:
    """The latest of the workshop, None where none is kept. A line about what is noted at the spot that nobody edited
    says what is noted there now."""
    found = stored_sheet_of(s, workshop_id)
    if found is None or found.noted is None:
        return found
    of_it = sa.select(spots.c.hazards).join(workshop_rows, workshop_rows.c.spot_id == spots.c.id)
    noted = s.execute(of_it.where(workshop_rows.c.id == workshop_id)).scalar_one()
    return replace(found, lines=with_noted(found.lines, found.noted, noted))


def with_noted(lines: tuple[HazardLine, ...], then: str, now: str) -> tuple[HazardLine, ...]:
    """The lines once something else is noted at the spot."""
    return lines if then == now else renewed(lines, noted_line(then), noted_line(now))


def noted_line(noted: str) -> tuple[HazardLine, ...]:
    """The line about what is noted at the spot, as prefilled; none for nothing."""
    return tuple(line for line in prefilled(Situation(noted=noted)) if line.key == "noted")


def stored_sheet_of(s: Session, workshop_id: int) -> KeptSheet | None:
    """The latest of the workshop as it was kept, None where none is."""
    found = shelf.list(s, sheets.c.workshop_id == workshop_id, order_by=(sheets.c.id.desc(),), limit=1)
    return found[0] if found else None
