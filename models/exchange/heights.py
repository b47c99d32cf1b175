"""How high a building is said to be: tags as people write them in, metres with their source and doubt out.

Rules, in this order. All of them common practice, no source:
    height           as given; wrong by a metre or so, since nobody says how it was measured
    building:levels  storeys, with those in the roof, times a storey's height (3.2 m unless set); wrong by a fifth
    small kinds      sheds, garages, kiosks: 3 m, give or take one
    nothing          assumed: the middle of the heights known in the same file, else 12 m unless set; wrong by a half
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from typing import NamedTuple

from models.exchange.features import short
from models.problems import InputProblem
from models.street.scene import HeightSource
from models.units import METRES_PER_FOOT

STOREY_M = 3.2
ASSUMED_M = 12.0
SMALL_M = 3.0
ENOUGH_TO_JUDGE = 20
GIVEN_DOUBT_M = 1.0
STOREYS_DOUBT = 0.2
LEAST_STOREYS_DOUBT_M = 1.0
SMALL_DOUBT_M = 1.0
ASSUMED_DOUBT = 0.5
TALLEST_M = 1000.0  # nothing built is higher yet
MOST_STOREYS = 200.0
SMALL_KINDS = frozenset({"shed", "garage", "garages", "carport", "kiosk", "hut", "service", "utility", "toilets"})
_UNITS = {
    "": 1.0,
    "m": 1.0,
    "metre": 1.0,
    "meter": 1.0,
    "cm": 0.01,
    "ft": METRES_PER_FOOT,
    "foot": METRES_PER_FOOT,
    "feet": METRES_PER_FOOT,
}
_NUMBER = r"\d+(?:[.,]\d+)?"
_LENGTH = re.compile(rf"({_NUMBER})\s*(m|metres?|meters?|cm|ft|foot|feet)?\.?$", re.IGNORECASE)
_OTHER_UNIT = re.compile(r"cm|f|'|′", re.IGNORECASE)
_FEET_AND_INCHES = re.compile(
    rf"(\d+)\s*(?:'|′|ft|feet)\s*(?:({_NUMBER})\s*(?:\"|″|''|in|inch|inches)?)?$", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class HeightRule:
    """A storey's height, and the height assumed where too few heights are known to judge by them."""

    storey_m: float = STOREY_M
    assumed_m: float = ASSUMED_M

    def __post_init__(self) -> None:
        if not 2.0 <= self.storey_m <= 10.0:
            raise InputProblem("storey_m", f"{self.storey_m:g} m is no storey; give 2 to 10 m")
        if not 2.0 <= self.assumed_m <= TALLEST_M:
            raise InputProblem("assumed_m", f"{self.assumed_m:g} m is no building; give 2 to {TALLEST_M:g} m")


USUAL_RULE = HeightRule()


@dataclass(frozen=True, slots=True)
class Reading:
    """What one building's tags say. top_m None: nothing usable.

    misread: what made no sense. converted: what was written in feet and the like. Both as read, in words.
    """

    top_m: float | None
    bottom_m: float
    source: HeightSource
    doubt_m: float
    misread: tuple[str, ...] = ()
    converted: tuple[str, ...] = ()

    def settled(self, assumed_m: float, storey_m: float) -> Settled:
        """With a height in any case. What hangs in the air is assumed one storey thick."""
        if self.top_m is not None:
            return Settled(self.top_m, self.bottom_m, self.source, self.doubt_m)
        top_m = self.bottom_m + storey_m if self.bottom_m else assumed_m
        return Settled(top_m, self.bottom_m, "assumed", ASSUMED_DOUBT * top_m)


@dataclass(frozen=True, slots=True)
class Settled:
    """A height to build with, metres."""

    top_m: float
    bottom_m: float
    source: HeightSource
    doubt_m: float


def metres(value: object) -> float | None:
    """A length as typed: 4, "4", "12.13 m", "12,5", "40 ft", "40' 6\\"". None if it is not understood."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    if not isinstance(value, str):
        return float(value) if abs(value) < 1e12 else None
    text = value.strip()
    feet = _FEET_AND_INCHES.match(text)
    if feet:
        return (float(feet[1]) + _float(feet[2] or "0") / 12) * METRES_PER_FOOT
    length = _LENGTH.match(text)
    return _float(length[1]) * _UNITS[(length[2] or "").lower().removesuffix("s")] if length else None


def reading(tags: Mapping[str, object], rule: HeightRule = USUAL_RULE) -> Reading:
    """The height in a building's tags or properties; what cannot be used is named in `misread`."""
    notes = _Notes([], [])
    given = _length(tags, "height", notes)
    storeys = _storeys(tags, "building:levels", notes)
    low = _length(tags, "min_height", notes)
    bottom_m = (_storeys(tags, "building:min_level", notes) or 0.0) * rule.storey_m if low is None else low
    source: HeightSource = "assumed"
    top_m, doubt_m = None, 0.0
    if given is not None:
        top_m, source, doubt_m = given, "surveyed", GIVEN_DOUBT_M
    elif storeys:
        top_m = (storeys + (_storeys(tags, "roof:levels", notes) or 0.0)) * rule.storey_m
        source, doubt_m = "levels", max(LEAST_STOREYS_DOUBT_M, STOREYS_DOUBT * top_m)
    elif tags.get("building") in SMALL_KINDS:
        top_m, doubt_m = SMALL_M, SMALL_DOUBT_M
    if top_m is not None and bottom_m >= top_m:
        notes.misread.append(f"a bottom at {bottom_m:g} m under a top at {top_m:g} m")
        bottom_m = 0.0
    return Reading(top_m, bottom_m, source, doubt_m, tuple(notes.misread), tuple(notes.converted))


def usual_m(readings: Sequence[Reading]) -> float | None:
    """The middle of the heights known, None if too few are."""
    known = [r.top_m for r in readings if r.top_m is not None and r.source != "assumed" and not r.bottom_m]
    return round(median(known), 1) if len(known) >= ENOUGH_TO_JUDGE else None


def settle(readings: Sequence[Reading], rule: HeightRule = USUAL_RULE) -> tuple[list[Settled], tuple[str, ...]]:
    """A height for every reading, and the sentences that say where they come from."""
    usual = usual_m(readings)
    assumed_m = usual or rule.assumed_m
    reason = "the middle of the heights known here" if usual else "too few heights are known here to judge by"
    settled = [one.settled(assumed_m, rule.storey_m) for one in readings]
    return settled, (*_source_words(settled, rule, assumed_m, reason), *_odd_words(readings))


def _source_words(settled: Sequence[Settled], rule: HeightRule, assumed_m: float, reason: str) -> Iterator[str]:
    count = Counter(one.source for one in settled)
    yield f"Heights: {count['surveyed']} as given, {count['levels']} from storeys, {count['assumed']} assumed."
    if count["levels"]:
        yield f"A storey is taken as {rule.storey_m:g} m (common practice, no source), wrong by up to a fifth."
    if count["assumed"]:
        yield (
            f"Assumed means {assumed_m:g} m ({reason}), wrong by up to a half; {SMALL_M:g} m for sheds and the like; "
            "one storey for what hangs in the air."
        )


def _odd_words(readings: Sequence[Reading]) -> Iterator[str]:
    misread = [text for one in readings for text in one.misread]
    if misread:
        yield f"Heights that made no sense and were left out: {len(misread)}, such as {_examples(misread)}."
    converted = [text for one in readings for text in one.converted]
    if converted:
        yield f"Heights in other units, turned into metres: {len(converted)}, such as {_examples(converted)}."


def _examples(texts: Sequence[str]) -> str:
    return ", ".join(sorted(set(texts))[:3])


class _Notes(NamedTuple):
    misread: list[str]
    converted: list[str]


def _length(tags: Mapping[str, object], key: str, notes: _Notes) -> float | None:
    value = tags.get(key)
    if value is None or value == "":
        return None
    number = metres(value)
    if number is None or not 0.0 <= number <= TALLEST_M or (number == 0.0 and key == "height"):
        notes.misread.append(f"{key} {short(value)}")
        return None
    if isinstance(value, str) and _OTHER_UNIT.search(value):
        notes.converted.append(f"{key} {short(value)} is {number:.1f} m")
    return number


def _storeys(tags: Mapping[str, object], key: str, notes: _Notes) -> float | None:
    """Storeys: 3, "2.5", "3;4" (the most)."""
    value = tags.get(key)
    if value is None or value == "":
        return None
    parts = [part.strip() for part in str(value).split(";")] if isinstance(value, int | float | str) else []
    number = max((_float(part) if re.fullmatch(_NUMBER, part) else math.inf for part in parts), default=math.inf)
    if number > MOST_STOREYS:
        notes.misread.append(f"{key} {short(value)}")
        return None
    return number


def _float(text: str) -> float:
    return float(text.replace(",", "."))
