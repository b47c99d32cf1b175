"""What planning hands to pages, JSON and the terminal: plain frozen dataclasses, figures with their doubt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from models.clock import to_local

State = Literal["sun", "leaves", "shade", "dusk", "lamps", "dark"]

STATE_WORDS: dict[State, str] = {
    "sun": "in the sun",
    "leaves": "behind leaves",
    "shade": "in open shade",
    "dusk": "in twilight",
    "lamps": "under the lamps",
    "dark": "dark",
}


@dataclass(frozen=True, slots=True)
class Moment:
    """An instant with the sky assumed for it. zone is an IANA name.

    oktas_spread: eighths by which the cloud of a forecast may lie off. of_hour: the sky is that hour's own weather and
    says nothing of other days.
    """

    instant: datetime
    zone: str
    oktas: int
    oktas_by: str
    oktas_spread: float = 0.0
    of_hour: bool = False

    @property
    def local(self) -> datetime:
        return to_local(self.instant, self.zone)


@dataclass(frozen=True, slots=True)
class RestsOn:
    """What a figure rests on, in words and figures."""

    oktas: int
    oktas_by: str
    skyline_source: str
    readings: int
    doubt_stops: float
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Figure:
    """An EV at ISO 100 with its doubt in stops; by_facing is the (low, high) range over the eight facings.

    unknown: (low, high) where most of it comes from lamps nobody noted, so that ev100 is but the middle of that.
    """

    ev100: float
    doubt_stops: float
    by_facing: tuple[float, float] | None = None
    unknown: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class TurningPoint:
    """A moment at which the light at a spot turns: 'sun leaves', 'lamps on'."""

    instant: datetime
    words: str
    local_text: str


@dataclass(frozen=True, slots=True)
class SpotRow:
    """One line of the list of spots. state, ev and reserve are None where they are not known or still worked out."""

    id: int
    name: str
    latitude_deg: float
    longitude_deg: float
    zone: str
    state: State | None
    state_words: str
    too_close: bool
    ev: Figure | None
    reserve_stops: float | None
    distance_m: float | None


@dataclass(frozen=True, slots=True)
class SpotsPage:
    """The list of spots at a moment, one page of it. pending: spots still being worked out; ask again."""

    answer: str
    moment: Moment
    moment_words: str
    rows: tuple[SpotRow, ...]
    total: int
    page: int
    pages: int
    sort: str
    turning_points: tuple[TurningPoint, ...]
    rests_on: str
    pending: int


@dataclass(frozen=True, slots=True)
class SpotState:
    """What the map shows for one spot."""

    id: int
    name: str
    latitude_deg: float
    longitude_deg: float
    state: State | None
    state_words: str
    ev100: float | None
    too_close: bool = False
