"""Spots as GeoJSON points, in and out. The properties are the fields of SpotDraft, with these written as people do:

canopies   [{"bearing_from_deg": 200, "bearing_to_deg": 250, "elevation_from_deg": 20, ...}]
measured   [[bearing_deg, elevation_deg], ...]
*_m        metres as a number, or text such as "2.4 m" or "8 ft"
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import MISSING, asdict, dataclass, fields
from typing import Any, TypeVar

from models.exchange.features import Feature, Source, of_kind, position, read_each, short
from models.exchange.heights import metres
from models.problems import InputProblem
from models.street.scene import Canopy, SkylinePoint
from models.street.spot import SpotDraft, checked

T = TypeVar("T")
ZoneOf = Callable[[float, float], str]
NOTED = tuple(field.name for field in fields(SpotDraft) if field.name not in ("latitude_deg", "longitude_deg"))
NEEDED_OF_CANOPY = tuple(field.name for field in fields(Canopy) if field.default is MISSING)


@dataclass(frozen=True, slots=True)
class SpotsRead:
    spots: tuple[SpotDraft, ...]
    notes: tuple[str, ...]


def read_spots(source: Source, zone_of: ZoneOf, zone: str | None = None) -> SpotsRead:
    """Every spot of a file, checked. `zone` holds for all; else the file's own; else zone_of(latitude, longitude).

    Raises InputProblem naming the features; nothing comes half read.
    """
    unknown: set[str] = set()

    def read(feature: Feature) -> SpotDraft:
        unknown.update(key for key in feature.properties if key not in NOTED)
        return _spot(feature, zone_of, zone)

    spots = tuple(read_each(source, read))
    notes = (f"Properties without a place here, left aside: {', '.join(sorted(unknown)[:8])}.",) if unknown else ()
    return SpotsRead(spots, notes)


def spot_feature(spot: SpotDraft) -> dict[str, Any]:
    """The spot as a GeoJSON feature that `read_spots` reads back the same."""
    noted: dict[str, Any] = {name: getattr(spot, name) for name in NOTED}
    noted["canopies"] = [asdict(canopy) | {"leaf_months": list(canopy.leaf_months)} for canopy in spot.canopies]
    noted["measured"] = [[point.bearing_deg, point.elevation_deg] for point in spot.measured]
    place = {"type": "Point", "coordinates": [spot.longitude_deg, spot.latitude_deg]}
    return {"type": "Feature", "properties": noted, "geometry": place}


def _spot(feature: Feature, zone_of: ZoneOf, zone: str | None) -> SpotDraft:
    ((longitude, latitude),) = of_kind(feature, "Point", position) if feature.kind == "Point" else _not_one(feature)
    noted = {key: value for key, value in feature.properties.items() if key in NOTED and value is not None}
    noted |= {key: _metres(key, noted[key]) for key in noted if key.endswith("_m") and isinstance(noted[key], str)}
    noted["canopies"] = _each("canopies", noted.get("canopies"), _canopy)
    noted["measured"] = _each("measured", noted.get("measured"), _point)
    noted["name"] = noted.get("name") or ""
    noted["zone"] = zone or noted.get("zone") or zone_of(latitude, longitude)
    return checked(SpotDraft(latitude_deg=latitude, longitude_deg=longitude, **noted))


def _not_one(feature: Feature) -> list[tuple[float, float]]:
    feature.refuse(f"is a {short(feature.kind)}; a spot is one Point")


def _metres(key: str, text: str) -> float:
    number = metres(text)
    if number is None:
        raise InputProblem(key, f"{short(text)} is not understood: write metres like 2.4, or feet like “8 ft”")
    return number


def _each(key: str, value: Any, read: Callable[[str, Any], T]) -> tuple[T, ...]:
    if value is None:
        return ()
    if not isinstance(value, list):
        raise InputProblem(key, f"{short(value)} is not a list")
    return tuple(read(f"{key} {number}", item) for number, item in enumerate(value, start=1))


def _canopy(label: str, value: Any) -> Canopy:
    known = {field.name for field in fields(Canopy)}
    if not isinstance(value, Mapping) or not known.issuperset(value):
        raise InputProblem(label, f"{short(value)}: write an object with {', '.join(sorted(known))}")
    missing = [name for name in NEEDED_OF_CANOPY if name not in value]
    if missing:
        raise InputProblem(label, f"lacks {', '.join(missing)}")
    months = value.get("leaf_months", [])
    if not isinstance(months, list):
        raise InputProblem(label, f"leaf_months {short(months)} is not a list of months")
    return Canopy(**{**value, "leaf_months": tuple(months)} if "leaf_months" in value else value)


def _point(label: str, value: Any) -> SkylinePoint:
    if not isinstance(value, list) or len(value) != 2:
        raise InputProblem(label, f"{short(value)}: write [bearing, elevation] in degrees")
    return SkylinePoint(*value)
