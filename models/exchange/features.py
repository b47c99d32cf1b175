"""GeoJSON (RFC 7946) taken apart: features with checked positions, and everything wrong with the file in one go."""

from __future__ import annotations

import json
import os
import reprlib
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from models.problems import FileProblems, InputProblem
from models.street.town import LonLat, box_of

Source = str | Path | bytes
T = TypeVar("T")
LARGEST_BYTES = 50_000_000
MOST_PROBLEMS = 20
WIDEST_DEG = 0.2  # of one outline or way, some 20 km: wider means a position typed wrongly
_SHORT = reprlib.Repr()
_SHORT.maxstring, _SHORT.maxother, _SHORT.maxlevel, _SHORT.maxlong = 60, 60, 3, 20


@dataclass(slots=True)
class Problems:
    """Collects problems feature by feature; `settle` raises them."""

    found: list[InputProblem] = field(default_factory=list)

    @contextmanager
    def of(self, label: str) -> Iterator[None]:
        """A problem met inside is kept under this label; the 20th ends the reading."""
        try:
            yield
        except FileProblems:
            raise
        except InputProblem as problem:
            here = problem.field == label
            self.found.append(problem if here else InputProblem(label, f"{problem.field}: {problem.message}"))
            if len(self.found) == MOST_PROBLEMS:
                self.settle()

    def settle(self) -> None:
        if self.found:
            raise FileProblems(self.found)


@dataclass(frozen=True, slots=True)
class Feature:
    """One feature: its label for messages ("feature 3 'Foo'"), its properties, its geometry as read.

    coordinates: of a GeometryCollection, its geometries.
    """

    label: str
    properties: Mapping[str, Any]
    kind: str
    coordinates: Any

    def refuse(self, message: str) -> NoReturn:
        raise InputProblem(self.label, message)


def read_each(source: Source, read: Callable[[Feature], T], most_bytes: int = LARGEST_BYTES) -> list[T]:
    """`read` of every feature; raises FileProblems with all that was wrong, so nothing is half read."""
    problems, results = Problems(), []
    for number, raw in enumerate(_raw_features(source, most_bytes), start=1):
        label = _label(number, raw)
        with problems.of(label):
            results.append(read(_feature(label, raw)))
    problems.settle()
    return results


def position(feature: Feature, value: Any) -> LonLat:
    """(longitude_deg, latitude_deg) of a GeoJSON position; a height in third place is left aside."""
    if not isinstance(value, list) or len(value) < 2 or not all(map(_is_number, value[:2])):
        feature.refuse(f"{short(value)} is not a position: write [longitude, latitude] in degrees")
    longitude, latitude = float(value[0]), float(value[1])
    if -180 <= longitude <= 180 and -90 <= latitude <= 90:
        return longitude, latitude
    if max(abs(longitude), abs(latitude)) > 360:
        feature.refuse(f"{short(value)} is not in degrees; GeoJSON wants longitude and latitude (WGS84), not metres")
    if abs(latitude) > 90:
        swapped = "; longitude comes first: are the two swapped?" if abs(longitude) <= 90 else ""
        feature.refuse(f"latitude {latitude:g} is outside -90 to 90{swapped}")
    feature.refuse(f"longitude {longitude:g} is outside -180 to 180")


def line(feature: Feature, value: Any) -> tuple[LonLat, ...]:
    if not isinstance(value, list) or len(value) < 2:
        feature.refuse(f"a line needs at least 2 positions; this has {_count(value)}")
    return _compact(feature, tuple(position(feature, each) for each in value))


def ring(feature: Feature, value: Any, widest_deg: float = WIDEST_DEG) -> tuple[LonLat, ...]:
    """A closed ring without its last, repeated position."""
    if not isinstance(value, list) or len(value) < 4:
        feature.refuse(
            f"a polygon needs at least 4 positions, the last the same as the first; this has {_count(value)}"
        )
    points = tuple(position(feature, each) for each in value)
    if points[0] != points[-1]:
        feature.refuse("a ring is not closed: repeat its first position at the end")
    return _compact(feature, points[:-1], widest_deg)


def polygon(feature: Feature, value: Any, widest_deg: float = WIDEST_DEG) -> tuple[tuple[LonLat, ...], ...]:
    """Its rings as `ring` gives them, the outline first."""
    if not isinstance(value, list) or not value:
        feature.refuse("a polygon needs at least one ring of positions")
    return tuple(ring(feature, each, widest_deg) for each in value)


def of_kind(feature: Feature, single: str, read: Callable[[Feature, Any], T]) -> list[T]:
    """The parts of a geometry of one kind or its Multi form, each read."""
    if feature.kind == single:
        return [read(feature, feature.coordinates)]
    if feature.kind != f"Multi{single}":
        feature.refuse(f"is a {short(feature.kind)}; here a {single} or Multi{single} is wanted")
    if not isinstance(feature.coordinates, list) or not feature.coordinates:
        feature.refuse(f"its Multi{single} is empty")
    return [read(feature, part) for part in feature.coordinates]


def short(value: object) -> str:
    """A value as it may stand in a message, however long or deep it is."""
    return _SHORT.repr(value)


def _compact(feature: Feature, points: tuple[LonLat, ...], widest_deg: float = WIDEST_DEG) -> tuple[LonLat, ...]:
    box = box_of(points)
    span = max(box.north - box.south, box.east - box.west)
    if span > widest_deg:
        feature.refuse(f"reaches over {span:.3g} degrees: one of its positions is wrong or swapped")
    return points


def _raw_features(source: Source, most_bytes: int) -> list[Any]:
    data = _parse(_bytes(source, most_bytes))
    if not isinstance(data, dict) or "type" not in data:
        raise InputProblem("file", "this JSON is not GeoJSON: it has no “type”")
    _check_crs(data.get("crs"))
    if data["type"] == "Feature":
        return [data]
    if data["type"] != "FeatureCollection":
        raise InputProblem("file", f"is a {short(data['type'])}; a FeatureCollection is wanted")
    if not isinstance(data.get("features"), list):
        raise InputProblem("file", "its “features” is not a list")
    return list(data["features"])


def _bytes(source: Source, most_bytes: int) -> bytes:
    if isinstance(source, bytes):
        _not_too_large(len(source), most_bytes)
        return source
    try:
        _not_too_large(os.stat(source).st_size, most_bytes)
        return Path(source).read_bytes()
    except OSError as problem:
        raise InputProblem("file", f"cannot be read: {problem.strerror}") from None


def _not_too_large(size: int, most: int) -> None:
    if size > most:
        raise InputProblem("file", f"is {size / 1e6:.0f} MB; at most {most / 1e6:.0f} MB: cut out the part you need")


def _parse(raw: bytes) -> Any:
    try:
        return json.loads(raw.decode("utf-8-sig"), parse_constant=_refuse_constant)
    except UnicodeDecodeError as problem:
        raise InputProblem("file", f"is not UTF-8 text (byte {problem.start + 1})") from None
    except json.JSONDecodeError as problem:
        raise InputProblem("file", f"is not JSON: {problem.msg} in line {problem.lineno}") from None
    except RecursionError:
        raise InputProblem("file", "is nested too deeply to be GeoJSON") from None
    except InputProblem:
        raise
    except ValueError:
        raise InputProblem("file", "is not JSON: it holds a number of thousands of digits") from None


def _refuse_constant(name: str) -> NoReturn:
    raise InputProblem("file", f"is not JSON: it holds {name}, which is no number")


def _check_crs(crs: Any) -> None:
    """Files older than RFC 7946 may name another system; longitude and latitude under any name are welcome."""
    properties = crs.get("properties") if isinstance(crs, dict) else None
    name = properties.get("name") if isinstance(properties, dict) else None
    if crs is not None and not any(isinstance(name, str) and word in name for word in ("CRS84", "4326")):
        raise InputProblem("file", f"names the coordinate system {short(name)}; GeoJSON wants longitude and latitude")


def _label(number: int, raw: Any) -> str:
    properties = raw.get("properties") if isinstance(raw, dict) else None
    name = properties.get("name") if isinstance(properties, dict) else None
    return f"feature {number} {short(name)}" if isinstance(name, str) and name else f"feature {number}"


def _feature(label: str, raw: Any) -> Feature:
    if not isinstance(raw, dict) or raw.get("type") != "Feature":
        raise InputProblem(label, "is not a GeoJSON Feature")
    properties, geometry = raw.get("properties"), raw.get("geometry")
    if properties is not None and not isinstance(properties, dict):
        raise InputProblem(label, "its “properties” is not an object")
    if not isinstance(geometry, dict):
        raise InputProblem(label, "has no geometry")
    kind = str(geometry.get("type"))
    inside = geometry.get("geometries" if kind == "GeometryCollection" else "coordinates")
    return Feature(label, properties or {}, kind, inside)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and -1e12 < value < 1e12


def _count(value: Any) -> str:
    return str(len(value)) if isinstance(value, list) else "none"
