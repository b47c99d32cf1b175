"""What was scouted at a spot, note by note, in words; what nobody noted says so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from models.clock import MONTHS
from models.light.lamps import LIGHTING_CLASS_LX
from models.planning.sentence import bearing_words
from models.store.spots import Spot
from models.street.scene import Canopy, SkylinePoint
from models.street.surfaces import GROUNDS, WALLS, Surface
from models.words.said import listed, signed_minus

NOT_NOTED = "not noted"
ROOF_WORDS = {"none": "open sky", "arcade": "an arcade or awning", "underpass": "an underpass or bridge"}


@dataclass(frozen=True, slots=True)
class Note:
    """One scouting note; noted False where the text only says that nothing is known."""

    label: str
    text: str
    noted: bool = True


@dataclass(frozen=True, slots=True)
class SpotNotes:
    """On the pavement: who comes by, what to watch, whom to ask. In the light: what shapes it."""

    pavement: tuple[Note, ...]
    light: tuple[Note, ...]


def spot_notes(spot: Spot, *counted: Note) -> SpotNotes:
    """The scouting notes of a spot. counted: what is known besides of who comes by."""
    return SpotNotes(tuple(_pavement(spot, counted)), tuple(_light(spot)))


def place_words(latitude_deg: float, longitude_deg: float) -> str:
    """'52.53010° N, 5.23120° E'."""
    north, east = ("N" if latitude_deg >= 0 else "S"), ("E" if longitude_deg >= 0 else "W")
    return f"{abs(latitude_deg):.5f}° {north}, {abs(longitude_deg):.5f}° {east}"


def _pavement(spot: Spot, counted: tuple[Note, ...]) -> Iterator[Note]:
    width = None if spot.pavement_width_m is None else f"{spot.pavement_width_m:g} m"
    yield _note("Footfall", spot.footfall_note)
    yield from counted
    yield _note("Clear width", width)
    yield _note("Hazards", spot.hazards)
    yield _note("Facilities", spot.facilities)
    yield _note("Who controls it", spot.controller)
    if spot.notes:
        yield Note("Anything else", spot.notes)


def _light(spot: Spot) -> Iterator[Note]:
    yield _note("Shade, as seen", spot.shade_note)
    yield _note("Surfaces", spot.surface_note)
    yield Note("Walls", _surface(spot.wall_surface, spot.wall_reflectance, WALLS), bool(spot.wall_surface))
    yield Note("Ground", _surface(spot.ground_surface, spot.ground_reflectance, GROUNDS), bool(spot.ground_surface))
    yield Note("Floor", f"{spot.floor_m:g} m above the street" if spot.floor_m else "at street level")
    yield Note("Overhead", ROOF_WORDS[spot.roof])
    if spot.canopies:
        yield Note("Trees and roofs", "\n".join(map(_canopy, spot.canopies)))
    yield _note("Skyline by hand", _measured(spot.measured), "not measured")
    yield _note("Street lamps", _lamps(spot), "not known")
    yield Note("Air", f"Linke turbidity {spot.turbidity:g} under a clear sky")
    looking = None if spot.looking_deg is None else f"looks {bearing_words(spot.looking_deg)}"
    yield _note("Usual camera", looking, "not settled")
    yield Note("Place", f"{place_words(spot.latitude_deg, spot.longitude_deg)}, {spot.zone}")


def _note(label: str, text: str | None, unknown: str = NOT_NOTED) -> Note:
    return Note(label, text or unknown, bool(text))


def _surface(key: str, reflectance: float, surfaces: tuple[Surface, ...]) -> str:
    """The surface's name, its share of light, and where that figure comes from if it is the published one."""
    known = next((surface for surface in surfaces if surface.key == key), None)
    name = known.name if known else key or NOT_NOTED
    source = f" ({known.source})" if known and known.reflectance == reflectance else ""
    return f"{name}, sends back {reflectance:.2f} of the light{source}" + ("" if key else ", assumed")


def _canopy(canopy: Canopy) -> str:
    whole = canopy.width_deg >= 360
    where = "all round" if whole else f"bearings {canopy.bearing_from_deg:g}° to {canopy.bearing_to_deg:g}°"
    height = f"{canopy.elevation_from_deg:g}° to {canopy.elevation_to_deg:g}° high"
    if canopy.is_roof:
        return f"{canopy.name}: {where}, {height}, lets nothing through"
    leaf, bare = (f"{share * 100:.0f} %" for share in (canopy.transmittance_leaf, canopy.transmittance_bare))
    months = _months(canopy.leaf_months)
    return f"{canopy.name}: {where}, {height}, lets through {leaf} in leaf ({months}), {bare} bare"


def _months(months: tuple[int, ...]) -> str:
    names = [MONTHS[month - 1] for month in months]
    in_a_row = len(months) > 2 and months == tuple(range(months[0], months[-1] + 1))
    return f"{names[0]} to {names[-1]}" if in_a_row else listed(names) or "no month"


def _measured(points: tuple[SkylinePoint, ...]) -> str:
    return "; ".join(f"{point.elevation_deg:g}° high at {point.bearing_deg:g}°" for point in points)


def _lamps(spot: Spot) -> str:
    found = []
    if spot.night_ev100 is not None:
        found.append(f"your reading EV {signed_minus(spot.night_ev100, 1)} at ISO 100")
    if spot.lighting_class:
        lux = LIGHTING_CLASS_LX[spot.lighting_class]
        found.append(f"class {spot.lighting_class}, {lux:g} lx on the ground on average")
    return "; ".join(found)
