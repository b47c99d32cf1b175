"""The sentence that sets the flash: read from the address, said back with its words to edit."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import isfinite
from typing import Protocol, TypeVar

from models.light.kit import Choice, Kit
from models.light.series import stops_words
from models.problems import InputProblem
from models.units import COMPASS, METRES_PER_FOOT

COUNTS = ("one", "two", "three", "four")
PARAMETERS = (
    "looking", "flash", "units", "zoom", "modifier", "distance", "camera", "trigger", "battery", "under", "face",
)  # fmt: skip
ANY_WAY, OWN_WAY = "any way", "each spot's usual way"
UNDERS = ("0", "1/3", "2/3", "1", "4/3", "5/3", "2", "3")
DISTANCES = ("1", "1.5", "2", "3", "4")
NEAREST_M, FURTHEST_M = 0.3, 30.0

_LENGTH = re.compile(r"(\d+(?:[.,]\d+)?)\s*(m|cm|ft|feet|foot|in|inch|inches|'|\")?$")
_METRES = {"m": 1.0, "cm": 0.01, "in": METRES_PER_FOOT / 12, '"': METRES_PER_FOOT / 12, "f": METRES_PER_FOOT}
_ASIDE = re.compile(r"\s*\([a-z -]*\)$")
_FRACTION = re.compile(
    r"(?P<sign>[-−+])?\s*(?:(?P<whole>\d{1,4})\s+)?(?P<part>\d{1,4}/[1-9]\d{0,3}|\d{1,4}(?:[.,]\d{1,9})?)$"
)


class Named(Protocol):
    """Anything of the kit: chosen by id, shown by name."""

    @property
    def id(self) -> str: ...
    @property
    def name(self) -> str: ...


Item = TypeVar("Item", bound=Named)


@dataclass(frozen=True, slots=True)
class Word:
    """One editable word: the text before it, its address parameter, its value, and what may stand there.

    options: (value, label). free: anything may be typed, the options are suggestions.
    """

    before: str
    parameter: str
    label: str
    value: str
    shown: str
    options: tuple[tuple[str, str], ...]
    free: bool = False


@dataclass(frozen=True, slots=True)
class Sentence:
    """The setup as chosen, the camera's bearing (None: not chosen), and the words that say it."""

    choice: Choice
    looking_deg: float | None
    words: tuple[Word, ...]
    after: str

    @property
    def text(self) -> str:
        return "".join(word.before + word.shown for word in self.words) + self.after

    @property
    def setup(self) -> str:
        """The flash and how it stands: 'One small flash, wide, bare, at 2 m'."""
        parts = {word.parameter: word.before + word.shown for word in self.words}
        kit = "".join(parts[name] for name in ("units", "flash", "zoom", "modifier"))
        return f"{kit}, at {parts['distance'].removeprefix(', ')}"

    @property
    def address(self) -> dict[str, str]:
        """The parameters that reproduce it."""
        return {word.parameter: word.value for word in self.words if word.value}

    def unlike(self, usual: Sentence) -> dict[str, str]:
        """The parameters in which it differs from another one of the same kit."""
        return {name: value for name, value in self.address.items() if usual.address.get(name) != value}


def read_sentence(
    asked: Mapping[str, str], kit: Kit, usual_looking_deg: float | None = None, *, unchosen: str = ANY_WAY
) -> Sentence:
    """The sentence meant by address parameters; what is missing takes the first of the kit and the usual start.

    unchosen: the words for a camera bearing that is not chosen, ANY_WAY or OWN_WAY.
    Raises InputProblem naming the parameter.
    """
    if not kit.flashes or not kit.cameras:
        raise InputProblem("flash", "there is no kit yet: add a flash and a camera first")
    flash = _chosen(asked, "flash", kit.flashes)
    modifier = _optional(asked, "modifier", kit.modifiers)
    choice = Choice(
        flash=flash,
        camera=_chosen(asked, "camera", kit.cameras),
        units=_units(asked.get("units", "")),
        zoom_mm=_read(asked, "zoom", lambda text: _number("zoom", text.lower().removesuffix("mm"), 10, 300), None),
        modifier=modifier,
        distance_m=_read(asked, "distance", read_distance, 2.0),
        trigger=_optional(asked, "trigger", kit.triggers) or (kit.triggers[0] if kit.triggers else None),
        surroundings_under=_read(asked, "under", lambda text: read_stops("under", text), 2 / 3),
        face_under=_read(asked, "face", lambda text: read_stops("face", text), 2 / 3),
        battery=_optional(asked, "battery", kit.batteries) or (kit.batteries[0] if kit.batteries else None),
    )
    looking = read_looking(asked["looking"]) if "looking" in asked else usual_looking_deg
    return Sentence(choice, looking, _words(choice, looking, kit, unchosen), " under.")


def read_distance(text: str) -> float:
    """Metres from '2', '2 m', '200 cm', '6 ft' or '48 in'."""
    metres = read_length(text)
    if metres is None:
        raise InputProblem("distance", f"“{text}” is not a distance. Type it like 2 m or 6 ft.")
    if not NEAREST_M <= metres <= FURTHEST_M:
        raise InputProblem("distance", f"{metres:.2g} m is out of reach: give {NEAREST_M:g} to {FURTHEST_M:g} m.")
    return metres


def read_length(text: str) -> float | None:
    """Metres, however many; None for what is no length."""
    found = _LENGTH.match(text.strip().lower())
    if not found:
        return None
    unit = found[2] or "m"
    factor = _METRES.get(unit) or _METRES['"' if unit.startswith("in") else "f"]
    return float(found[1].replace(",", ".")) * factor


def read_stops(field: str, text: str) -> float:
    """Stops from '2/3', '1 1/3', '0.67' or '-1/3'."""
    found = _FRACTION.match(text.strip().lower().removesuffix("stops").removesuffix("stop").strip())
    if not found:
        raise InputProblem(field, f"“{text}” is not a number of stops. Type it like 2/3 or 1 1/3.")
    size = float(Fraction(found["part"].replace(",", "."))) + int(found["whole"] or 0)
    stops = -size if found["sign"] in ("-", "−") else size
    if not -5 <= stops <= 10:
        raise InputProblem(field, "give stops under, from -5 to 10")
    return stops


def read_looking(text: str) -> float | None:
    """A camera bearing in degrees from '270', '270°', '250° (west)', 'west' or 'w'; empty or 'any' is none chosen."""
    typed = _ASIDE.sub("", text.strip().lower()).rstrip("°")
    if typed in ("", "any", ANY_WAY, OWN_WAY):
        return None
    for k, point in enumerate(COMPASS):
        if typed in (point, "".join(part[0] for part in point.split("-"))):
            return k * 45.0
    return _number("looking", typed, 0, 360) % 360


def bearing_words(bearing_deg: float) -> str:
    """'west', or '250° (west)' off the eight points."""
    k = round(bearing_deg / 45) % 8
    off = abs((bearing_deg - k * 45 + 180) % 360 - 180)
    return COMPASS[k] if off < 0.5 else f"{bearing_deg:.4g}° ({COMPASS[k]})"


def _words(choice: Choice, looking: float | None, kit: Kit, unchosen: str) -> tuple[Word, ...]:
    zooms = dict([("", "wide"), *((f"{zoom:g}", f"at {zoom:g} mm") for zoom, _ in choice.flash.guide_numbers)])
    zoom_value = f"{choice.zoom_mm:g}" if choice.zoom_mm else ""
    zooms.setdefault(zoom_value, f"at {zoom_value} mm")
    modifiers = dict([("", "bare"), *((modifier.id, f"with {modifier.name}") for modifier in kit.modifiers)])
    modifier_id = choice.modifier.id if choice.modifier else ""
    unders = tuple((under, f"{stops_words(float(Fraction(under)))} stop") for under in UNDERS)
    metres = f"{choice.distance_m:.2f}".rstrip("0").rstrip(".")
    units = tuple((str(k + 1), word) for k, word in enumerate(COUNTS))
    facing = (("any", unchosen), *((f"{k * 45}", point) for k, point in enumerate(COMPASS)))
    looking_value = "any" if looking is None else f"{looking:g}"
    looking_shown = unchosen if looking is None else bearing_words(looking)
    trigger, battery = choice.trigger, choice.battery
    words = [
        Word("", "units", "how many flashes", str(choice.units), COUNTS[choice.units - 1].capitalize(), units),
        _kit_word(" ", "flash", "flash", choice.flash, kit.flashes),
        Word(", ", "zoom", "zoom", zoom_value, zooms[zoom_value], tuple(zooms.items())),
        Word(", ", "modifier", "modifier", modifier_id, modifiers[modifier_id], tuple(modifiers.items())),
        Word(", ", "distance", "distance", metres, f"{metres} m", tuple((d, f"{d} m") for d in DISTANCES), free=True),
        _kit_word(" from the face; ", "camera", "camera", choice.camera, kit.cameras),
        _kit_word(", fired by ", "trigger", "trigger", trigger, kit.triggers) if trigger else None,
        _kit_word(", on ", "battery", "battery set", battery, kit.batteries) if battery else None,
        Word("; looking ", "looking", "camera bearing", looking_value, looking_shown, facing, free=True),
        Word(
            ", surroundings ", "under", "surroundings under, in stops", _plain(choice.surroundings_under),
            f"{stops_words(choice.surroundings_under)} stop", unders, free=True,
        ),
        Word(
            " and face ", "face", "light already on the face under, in stops", _plain(choice.face_under),
            f"{stops_words(choice.face_under)} stop", unders, free=True,
        ),
    ]  # fmt: skip
    return tuple(word for word in words if word)


def _kit_word(before: str, parameter: str, label: str, chosen: Named, items: Sequence[Named]) -> Word:
    return Word(before, parameter, label, chosen.id, chosen.name, tuple((item.id, item.name) for item in items))


def _plain(stops: float) -> str:
    nearest = Fraction(stops).limit_denominator(3)
    return str(nearest) if abs(nearest - stops) < 0.01 else f"{stops:.2f}"


def _chosen(asked: Mapping[str, str], parameter: str, items: Sequence[Item]) -> Item:
    return _optional(asked, parameter, items) or items[0]


def _optional(asked: Mapping[str, str], parameter: str, items: Sequence[Item]) -> Item | None:
    wanted = asked.get(parameter, "").strip()
    if not wanted:
        return None
    for item in items:
        if wanted.lower() in (item.id.lower(), item.name.lower()):
            return item
    known = ", ".join(item.id for item in items)
    raise InputProblem(parameter, f"“{wanted}” is not in the kit. There is: {known}.")


def _units(text: str) -> int:
    typed = text.strip().lower()
    if not typed:
        return 1
    count = COUNTS.index(typed) + 1 if typed in COUNTS else int(typed) if len(typed) == 1 and typed.isdecimal() else 0
    if not 1 <= count <= len(COUNTS):
        raise InputProblem("units", f"“{text}” is not a number of flashes: use 1 to {len(COUNTS)}.")
    return count


Value = TypeVar("Value")
Default = TypeVar("Default")


def _read(
    asked: Mapping[str, str], parameter: str, reader: Callable[[str], Value], default: Default
) -> Value | Default:
    text = asked.get(parameter, "").strip()
    return reader(text) if text else default


def _number(field: str, text: str, low: float, high: float) -> float:
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        raise InputProblem(field, f"“{text}” is not a number.") from None
    if not isfinite(value) or not low <= value <= high:
        raise InputProblem(field, f"{text} is out of reach: give {low:g} to {high:g}.")
    return value
