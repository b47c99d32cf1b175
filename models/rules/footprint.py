"""What a workshop does at a place: the footprint that rules are looked up for."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from datetime import date, datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Doing:
    """How much of each activity there is. group: everyone standing there: attendees, models, helpers, organiser,
    guardians. The names are the keys of ACTIVITIES.
    """

    group: int = 9
    models: int = 1
    teaching: bool = True
    stand_ground: int = 0
    stand_held: int = 1
    tripod: int = 0
    flash_held: int = 1
    obstruction: bool = False
    cable: bool = False
    vehicle: bool = False
    signs: bool = False
    filming: bool = False

    def amounts(self) -> dict[str, int]:
        """By key of ACTIVITIES; what is not done is left out."""
        counted = {part.name: int(getattr(self, part.name)) for part in fields(self)}
        return {key: amount for key, amount in counted.items() if amount}


@dataclass(frozen=True, slots=True, kw_only=True)
class Footprint:
    """Local instants with their zone, set-up to pack. width_left_m: for walkers beside it, None where not measured."""

    starts: datetime
    ends: datetime
    doing: Doing = field(default_factory=Doing)
    width_left_m: float | None = None

    @property
    def day(self) -> date:
        """The local day of set-up, which deadlines count back from."""
        return self.starts.date()
