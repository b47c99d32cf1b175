"""Draws Havenmark: `python -m sample_locations.draw_havenmark` writes its GeoJSON files and plan.svg anew.

The same plan gives the same files. Spots, kit and by-laws are written by hand and stay as they are.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from shapely import LineString, Point, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from models.street.plane import LocalPlane
from sample_locations import havenmark_plan as plan
from sample_locations.havenmark_areas import grounds
from sample_locations.havenmark_houses import House, drawn, strip, terraces
from sample_locations.havenmark_picture import picture

FOLDER = Path(__file__).parent / "havenmark"
PLANE = LocalPlane(plan.LATITUDE_DEG, plan.LONGITUDE_DEG)
DIGITS = 7  # of a degree: about a centimetre
Feature = dict[str, Any]


def main() -> None:
    houses = [*drawn(), *terraces()]
    tree_features, lamp_features = list(trees(houses)), list(lamps(houses))
    write("buildings", [building(house) for house in houses])
    write("trees", tree_features)
    write("footways", [footway(*line) for line in footways()])
    write("lamps", lamp_features)
    write("hints", [feature(Point(hint.at), {hint.tag: hint.value} | named(hint.name)) for hint in plan.HINTS])
    write("ground", list(ground()))
    write("areas", list(areas()))
    (FOLDER / "plan.svg").write_text(picture(houses, tree_features, FOLDER), "utf-8")


def write(name: str, features: list[Feature]) -> None:
    lines = ",\n".join(json.dumps(feature, ensure_ascii=False) for feature in features)
    (FOLDER / f"{name}.geojson").write_text(f'{{"type": "FeatureCollection", "features": [\n{lines}\n]}}\n', "utf-8")


def building(house: House) -> Feature:
    noted = {
        "name": house.name or None,
        "building": house.use,
        "height": house.height_m,
        "building:levels": house.storeys,
        "min_height": house.bottom_m or None,
    }
    return feature(house.shape, {key: value for key, value in noted.items() if value is not None})


def trees(houses: list[House]) -> Iterator[Feature]:
    built = unary_union([house.shape for house in houses if not house.bottom_m])
    for number, planting in enumerate(plan.PLANTINGS):
        chance = random.Random(number)  # noqa: S311  (the same every time)
        for place in along(planting.line, planting.aside_m, planting.step_m):
            size = chance.uniform(0.88, 1.1)
            if built.distance(place) > 2.0:
                noted = {
                    "natural": "tree",
                    "kind": planting.kind,
                    "height": round(planting.height_m * size, 1),
                    "diameter_crown": round(2 * planting.crown_radius_m * size, 1),
                }
                yield feature(place, noted)


def lamps(houses: list[House]) -> Iterator[Feature]:
    built = unary_union([house.shape for house in houses if not house.bottom_m])
    for street in (*plan.STREETS, *plan.PATHS[:2]):
        side = 0.0 if street.width_m < 10 and street.kind != "footway" else street.width_m / 2 - 1.2
        for number, _ in enumerate(along(street.line, 0.0, plan.LAMP_STEP_M)):
            aside = side if number % 2 else -side
            place = list(along(street.line, aside, plan.LAMP_STEP_M))[number:][:1]
            if place and built.distance(place[0]) > 0.3:
                yield feature(place[0], {"highway": "street_lamp"})


def along(line: plan.Line, aside_m: float, step_m: float) -> Iterator[Point]:
    """Points at even steps beside a line, left of it positive, beginning half a step in."""
    beside = LineString(line)
    if aside_m:
        beside = beside.offset_curve(aside_m, join_style="mitre")
    for number in range(int(beside.length / step_m)):
        yield beside.interpolate((number + 0.5) * step_m)


def footways() -> Iterator[tuple[str, LineString, float, str, str]]:
    for street in (*plan.STREETS, *plan.PATHS):
        yield street.name, LineString(street.line), street.width_m, street.surface, street.kind
        if street.kind == "residential":
            for side in (1, -1):
                aside = side * (street.width_m - plan.PAVEMENT_M) / 2
                pavement = LineString(street.line).offset_curve(aside, join_style="mitre")
                yield street.name, pavement, plan.PAVEMENT_M, "paving_stones", "footway"
    for name, side in (("North Rope Quay", 1), ("South Rope Quay", -1)):
        middle = side * (plan.CANAL_CORRIDOR_M + plan.CANAL_WIDTH_M) / 4
        on_land = LineString(plan.CANAL).intersection(Polygon(plan.ISLAND))
        yield name, on_land.offset_curve(middle, join_style="mitre"), plan.TOWPATH_M, "sett", "pedestrian"


def footway(name: str, line: LineString, width_m: float, surface: str, kind: str) -> Feature:
    return feature(line, {"highway": kind, "name": name, "width": width_m, "surface": surface, "lit": "yes"})


def named(name: str) -> Feature:
    return {"name": name} if name else {}


def ground() -> Iterator[Feature]:
    yield feature(Polygon(plan.ISLAND), {"ground": "land", "name": "Havenmark island"})
    yield feature(Polygon(plan.PARK), {"ground": "grass", "name": "Linden Park"})
    yield feature(Polygon(plan.SQUARE), {"ground": "square", "name": "Market Square"})
    water = unary_union([strip(plan.CANAL, plan.CANAL_WIDTH_M), Polygon(plan.BASIN)])
    yield feature(water.intersection(Polygon(plan.ISLAND)), {"ground": "water", "name": "Rope Canal"})


def areas() -> Iterator[Feature]:
    for area in grounds():
        noted = {
            "name": area.name,
            "kind": area.kind,
            "authority": area.authority,
            "contact": area.contact,
            "no_passing": area.no_passing or None,
            "notes": area.notes or None,
        }
        yield feature(area.shape, {key: value for key, value in noted.items() if value is not None})


def feature(shape: BaseGeometry, properties: Feature) -> Feature:
    return {"type": "Feature", "properties": properties, "geometry": geometry(shape)}


def geometry(shape: BaseGeometry) -> Feature:
    if isinstance(shape, Point):
        return {"type": "Point", "coordinates": degrees([shape.coords[0]])[0]}
    if isinstance(shape, LineString):
        return {"type": "LineString", "coordinates": degrees(list(shape.coords))}
    whole = shape.normalize().reverse() if not shape.normalize().exterior.is_ccw else shape.normalize()
    return {
        "type": "Polygon",
        "coordinates": [degrees(list(ring.coords)) for ring in (whole.exterior, *whole.interiors)],
    }


def degrees(points: list[tuple[float, ...]]) -> list[list[float]]:
    latitude, longitude = PLANE.to_degrees([p[0] for p in points], [p[1] for p in points])
    return [[round(x, DIGITS), round(y, DIGITS)] for x, y in zip(longitude.tolist(), latitude.tolist(), strict=True)]


if __name__ == "__main__":
    main()
