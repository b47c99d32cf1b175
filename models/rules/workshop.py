"""A workshop as far as rules go: a spot, a time, a footprint, and where to go instead."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from models.rules.footprint import Doing


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkshopDraft:
    """starts, ends: UTC instants, set-up to pack. meeting_point: latitude and longitude, where the walk begins."""

    title: str
    spot_id: int
    starts: datetime
    ends: datetime
    doing: Doing = field(default_factory=Doing)
    width_left_m: float | None = None
    fallback_spot_id: int | None = None
    meeting_point: tuple[float, float] | None = None
    called_off: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop(WorkshopDraft):
    """A workshop as kept; hand `version` back with a change."""

    id: int
    version: int
