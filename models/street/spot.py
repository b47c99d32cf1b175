"""A spot as it is typed or read: where to stand and what was noted there."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from functools import cache
from math import isfinite
from typing import Literal, TypeVar, get_args
from zoneinfo import available_timezones

from models.problems import InputProblem
from models.street.scene import Canopy, SkylinePoint

T = TypeVar("T")
Roof = Literal["none", "arcade", "underpass"]
LIGHTING_CLASSES = ("P1", "P2", "P3", "P4", "P5", "P6", "C0", "C1", "C2", "C3", "C4", "C5")
"""Lighting classes of EN 13201-2 that suit pedestrians (from memory)."""
LONGEST_NAME = 120
LONGEST_NOTE = 4000
MOST_POINTS = 720


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotGround:
    """All that the light at a spot rests on, but the town round it. None means "not noted".

    wall_reflectance 0.30: external obstructions, IES LM-83-12 (from memory).
    ground_reflectance 0.12: asphalt, SURFACE_ALBEDOS of pvlib 0.16.1.
    """

    name: str
    latitude_deg: float
    longitude_deg: float
    zone: str
    floor_m: float = 0.0
    roof: Roof = "none"
    wall_surface: str = ""
    wall_reflectance: float = 0.30
    ground_surface: str = ""
    ground_reflectance: float = 0.12
    turbidity: float = 3.0
    lighting_class: str | None = None
    night_ev100: float | None = None
    looking_deg: float | None = None
    canopies: tuple[Canopy, ...] = ()
    measured: tuple[SkylinePoint, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotDraft(SpotGround):
    """What can be said of a spot. Empty text and None mean "not noted"."""

    pavement_width_m: float | None = None
    footfall_note: str = ""
    shade_note: str = ""
    surface_note: str = ""
    hazards: str = ""
    facilities: str = ""
    controller: str = ""
    notes: str = ""


RANGES: dict[str, tuple[float, float, str]] = {
    "latitude_deg": (-90.0, 90.0, "degrees"),
    "longitude_deg": (-180.0, 180.0, "degrees"),
    "floor_m": (-100.0, 800.0, "metres"),
    "wall_reflectance": (0.0, 0.95, "of the light"),
    "ground_reflectance": (0.0, 0.95, "of the light"),
    "pavement_width_m": (0.0, 200.0, "metres"),
    "turbidity": (1.0, 12.0, "(Linke)"),
    "night_ev100": (-8.0, 20.0, "EV100"),
    "looking_deg": (0.0, 360.0, "degrees"),
}
"""What can be meant at all. Reflectance stops below 1: a street that swallows no light has no answer."""


def checked(draft: SpotDraft) -> SpotDraft:
    """The draft with its texts trimmed, or InputProblem naming the field."""
    tidy: dict[str, object] = {"name": _name(draft.name)}
    for field in fields(SpotDraft):
        value = getattr(draft, field.name)
        if field.name in RANGES:
            tidy[field.name] = _number(field.name, value)
        elif field.name != "name" and field.type in ("str", "str | None") and value is not None:
            tidy[field.name] = trimmed(field.name, value)
    _one_of("zone", draft.zone, _zones())
    _one_of("roof", draft.roof, get_args(Roof))
    if draft.lighting_class is not None:
        _one_of("lighting_class", draft.lighting_class, LIGHTING_CLASSES)
    if draft.looking_deg is not None:
        tidy["looking_deg"] = draft.looking_deg % 360.0
    _each("canopies", draft.canopies, _check_canopy)
    _each("measured", draft.measured, _check_point)
    return replace(draft, **tidy)  # type: ignore[arg-type]


def _name(text: str) -> str:
    name = " ".join(readable("name", text).split())
    if not name:
        raise InputProblem("name", "give the spot a name")
    if len(name) > LONGEST_NAME:
        raise InputProblem("name", f"{len(name)} characters; at most {LONGEST_NAME}")
    if any(unicodedata.category(letter) == "Cc" for letter in name):
        raise InputProblem("name", "holds a control character; type it again without")
    return name


def trimmed(field: str, text: str, longest: int = LONGEST_NOTE) -> str:
    """The text without blanks at its ends, or InputProblem where it is too long or no text."""
    tidy = readable(field, text).strip()
    if len(tidy) > longest:
        raise InputProblem(field, f"{len(tidy)} characters; at most {longest}")
    return tidy


def readable(field: str, text: str) -> str:
    """The text, or InputProblem where a database or a page could not take it."""
    if not isinstance(text, str):
        raise InputProblem(field, f"{text!r} is not text")
    if "\x00" in text or any(unicodedata.category(letter) == "Cs" for letter in text):
        raise InputProblem(field, "holds a character that is no text")
    return text


def _number(field: str, value: float | None) -> float | None:
    if value is None and field in ("pavement_width_m", "night_ev100", "looking_deg"):
        return None
    lowest, highest, unit = RANGES[field]
    return _within(field, value, lowest, highest, unit)


def _within(field: str, value: object, lowest: float, highest: float, unit: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
        raise InputProblem(field, f"{value!r} is not a number")
    if not lowest <= value <= highest:
        raise InputProblem(field, f"{value:g} is outside {lowest:g} to {highest:g} {unit}")
    return float(value)


def _one_of(field: str, value: object, known: frozenset[str] | tuple[str, ...]) -> None:
    if not isinstance(value, str) or value not in known:
        example = "a zone such as Europe/Amsterdam" if field == "zone" else ", ".join(known)
        raise InputProblem(field, f"{value!r} is not known; choose {example}")


@cache
def _zones() -> frozenset[str]:
    return frozenset(available_timezones())


def _each(field: str, items: tuple[T, ...], check: Callable[[str, T], None]) -> None:
    if len(items) > MOST_POINTS:
        raise InputProblem(field, f"{len(items)} entries; at most {MOST_POINTS}")
    for number, item in enumerate(items, start=1):
        check(f"{field} {number}", item)


def _check_canopy(field: str, canopy: Canopy) -> None:
    for bearing in (canopy.bearing_from_deg, canopy.bearing_to_deg):
        _within(field, bearing, 0.0, 360.0, "degrees of bearing")
    for elevation in (canopy.elevation_from_deg, canopy.elevation_to_deg):
        _within(field, elevation, 0.0, 90.0, "degrees of elevation")
    if canopy.elevation_from_deg >= canopy.elevation_to_deg:
        raise InputProblem(field, "its upper edge must be higher than its lower edge")
    for share in (canopy.transmittance_leaf, canopy.transmittance_bare):
        _within(field, share, 0.0, 1.0, "of the light let through")
    if not all(month in range(1, 13) for month in canopy.leaf_months):
        raise InputProblem(field, f"months in leaf are 1 to 12, not {list(canopy.leaf_months)}")
    trimmed(field, canopy.name)


def _check_point(field: str, point: SkylinePoint) -> None:
    _within(field, point.bearing_deg, 0.0, 360.0, "degrees of bearing")
    _within(field, point.elevation_deg, -10.0, 90.0, "degrees of elevation")
