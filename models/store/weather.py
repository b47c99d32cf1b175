"""The weather of hours at a spot, typed in or from a forecast. It goes when its spot goes for good."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from datetime import datetime, timedelta

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.clock import require_aware
from models.problems import InputProblem
from models.store import spots
from models.store.types import UtcDateTime, metadata
from models.store.versions import Shelf
from models.street.weather import WeatherHour, checked_weather

FIGURES = ("oktas", "wind_m_s", "gust_m_s", "temperature_c", "humidity_pct", "rain_mm")
KEEP_FORECAST = timedelta(days=30)
"""Hours of old forecasts further back than this are thrown away when a new one comes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HourDraft(WeatherHour):
    """One hour at a spot. kept_at: when it came here."""

    spot_id: int
    kept_at: datetime

    @property
    def hour(self) -> WeatherHour:
        return WeatherHour(**{field.name: getattr(self, field.name) for field in fields(WeatherHour)})


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptHour(HourDraft):
    """An hour as kept."""

    id: int
    version: int


hours = sa.Table(
    "weather_hours",
    metadata,
    sa.Column("id", sa.Integer, primary_key=True),
    sa.Column("version", sa.Integer, nullable=False),
    sa.Column("spot_id", sa.Integer, sa.ForeignKey("spots.id", ondelete="CASCADE"), nullable=False),
    sa.Column("starts", UtcDateTime, nullable=False),
    sa.Column("kept_at", UtcDateTime, nullable=False),
    *(sa.Column(name, sa.Float) for name in FIGURES),
    sa.Column("source", sa.Text, nullable=False),
    sa.Column("issued_at", UtcDateTime),
    sa.Column("deleted_at", UtcDateTime),
    sa.Index(None, "spot_id", "starts"),
    sqlite_autoincrement=True,
)
_TYPED, _FETCHED = hours.c.issued_at.is_(None), hours.c.issued_at.is_not(None)


def draft_of(spot_id: int, hour: WeatherHour, kept_at: datetime) -> HourDraft:
    values = {field.name: getattr(hour, field.name) for field in fields(WeatherHour)}
    return HourDraft(spot_id=spot_id, kept_at=kept_at, **values)


def checked_draft(draft: HourDraft) -> HourDraft:
    """The draft in UTC with its source trimmed, or InputProblem naming the field."""
    good = checked_weather(draft.hour)
    if all(getattr(good, name) is None for name in FIGURES):
        raise InputProblem("oktas", "give at least one figure")
    try:
        kept_at = require_aware(draft.kept_at)
    except ValueError as problem:
        raise InputProblem("kept_at", str(problem)) from problem
    return replace(draft, starts=good.starts, source=good.source, issued_at=good.issued_at, kept_at=kept_at)


shelf = Shelf[HourDraft, KeptHour](
    what="hour of weather", table=hours, kept=KeptHour, check=checked_draft, links={"spot_id": spots.shelf}
)


def hours_at(
    s: Session, spot_id: int, since: datetime | None = None, until: datetime | None = None
) -> tuple[KeptHour, ...]:
    """The hours at a spot that start from `since` until before `until`, rising; of two alike the older first."""
    where = [hours.c.spot_id == spot_id]
    where += [hours.c.starts >= since] if since else []
    where += [hours.c.starts < until] if until else []
    return shelf.list(s, *where, order_by=(hours.c.starts, hours.c.kept_at, hours.c.id))


def has_forecast(s: Session, spot_id: int) -> bool:
    return bool(shelf.count(s, hours.c.spot_id == spot_id, _FETCHED))


def any_between(s: Session, since: datetime, until: datetime) -> bool:
    """Whether any spot has an hour that starts from `since` to `until`."""
    return bool(shelf.count(s, hours.c.starts.between(since, until)))


def typed_among(s: Session, spot_id: int, starts: Sequence[datetime]) -> tuple[KeptHour, ...]:
    """Typed hours that begin at one of these instants, rising."""
    where = (hours.c.spot_id == spot_id, _TYPED, hours.c.starts.in_(list(starts)))
    return shelf.list(s, *where, order_by=(hours.c.starts, hours.c.id))


def replace_forecast(s: Session, spot_id: int, drafts: Sequence[HourDraft]) -> None:
    """Put a forecast's hours in place of those kept from its first hour on. InputProblem names what does not fit."""
    first = min(draft.starts for draft in drafts)
    old = sa.or_(hours.c.starts >= first, hours.c.starts < first - KEEP_FORECAST)
    s.execute(sa.delete(hours).where(hours.c.spot_id == spot_id, _FETCHED, old))
    shelf.add_all(s, drafts)
