"""What the spot page shows, as plain dataclasses."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from models.drawing.figures import FigureRow
from models.light.flash import FlashAnswer
from models.planning.answers import Figure, Moment, RestsOn, State, TurningPoint
from models.planning.rules.spot_line import SpotLine
from models.planning.sentence import Sentence
from models.planning.spot_notes import SpotNotes
from models.store.spots import Spot
from models.words.said import Said


@dataclass(frozen=True, slots=True)
class Drawing:
    """An SVG at two widths, for a desk and for a phone, with what it rests on."""

    wide: str
    narrow: str
    caption: str


@dataclass(frozen=True, slots=True)
class FacingRow:
    """One way to face them, best first."""

    looking_deg: float
    looking: str
    face_ev: float
    behind_ev: float
    reserve_stops: float
    binds: str
    sun: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class BackdropPart:
    """A part of what is behind the subject: its share of the view and its own EV."""

    what: str
    share: float
    ev100: float


@dataclass(frozen=True, slots=True)
class LightNow:
    """The light at the moment; obstacle: what the sun is behind, in words."""

    state: State
    state_words: str
    too_close: bool
    sun_words: str
    sun_elevation_deg: float
    sun_azimuth_deg: float
    obstacle: str
    subject: Figure
    behind: Figure | None
    behind_parts: tuple[BackdropPart, ...]


@dataclass(frozen=True, slots=True)
class Dial:
    """What to set, each figure with its name, and lines about the flash."""

    figures: tuple[tuple[str, str], ...]
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BandSaid:
    """Golden or blue hour of the day at this spot; reaches: whether its light gets here."""

    name: str
    start: datetime
    end: datetime
    words: str
    reaches: bool


@dataclass(frozen=True, slots=True)
class SpotPage:
    """Everything about one spot at one moment."""

    spot: Spot
    moment: Moment
    moment_words: str
    answer: Said
    rules: SpotLine
    cautions: tuple[str, ...]
    light: LightNow
    sentence: Sentence
    flash: FlashAnswer
    dial: Dial
    facing: tuple[FacingRow, ...]
    turning_points: tuple[TurningPoint, ...]
    bands: tuple[BandSaid, ...]
    skyline: Drawing
    day: Drawing
    day_rows: tuple[FigureRow, ...]
    year: Drawing
    year_quantity: str
    notes: SpotNotes
    working: tuple[str, ...]
    rests_on: RestsOn
    sources: tuple[tuple[str, str], ...]
