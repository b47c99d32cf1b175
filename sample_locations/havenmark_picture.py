"""The plan of Havenmark as a picture, to look at before its files are committed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from models.street.plane import LocalPlane
from sample_locations import havenmark_plan as plan
from sample_locations.havenmark_houses import House, strip

WEST_M, NORTH_M, WIDTH_M, HEIGHT_M = -340, 320, 780, 640
WATER, LAND, GRASS, INK = "#c9d6dc", "#f4f1ea", "#d5dccb", "#26262a"
UNMARKED = frozenset(
    {
        "Market Hall lantern",
        "Mariners' Church tower",
        "Town Hall tower",
        "Town Hall arcade",
        "Foundry chimney",
        "Hall Deck car park",
        "Hall Deck stair tower",
        "Ropemakers' Almshouses",
        "Railway bridge",
        "Railway viaduct",
    }
)
"""Names that would lie on top of another."""


def picture(houses: list[House], trees: list[dict[str, Any]], folder: Path) -> str:
    shapes = [
        f'<rect x="{WEST_M}" y="{-NORTH_M}" width="{WIDTH_M}" height="{HEIGHT_M}" fill="{WATER}"/>',
        path(Polygon(plan.ISLAND), LAND),
        path(Polygon(plan.PARK), GRASS),
        path(strip(plan.CANAL, plan.CANAL_WIDTH_M), WATER),
        path(Polygon(plan.BASIN), WATER),
        *(path(house.shape, grey(house), house.bottom_m > 0) for house in houses),
        *(circle(tree, tree["properties"]["diameter_crown"] / 2, "#7f9671", 0.6) for tree in trees),
        *(
            word(house.name, *house.shape.centroid.coords[0], 4.5)
            for house in houses
            if house.name and house.name not in UNMARKED
        ),
        *(word(street.name, *middle(street.line), 5) for street in plan.STREETS),
        *spots(folder / "spots.geojson"),
    ]
    box = f"{WEST_M} {-NORTH_M} {WIDTH_M} {HEIGHT_M}"
    head = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" width="1560" height="1280">'
    return "\n".join([head, "<title>Plan of Havenmark, an invented town</title>", *shapes, "</svg>", ""])


def grey(house: House) -> str:
    tone = 225 - int(4.2 * min(house.height_m or 9.0, 35.0))
    return f"rgb({tone},{tone - 8},{tone - 18})"


def path(shape: BaseGeometry, fill: str, open_below: bool = False) -> str:
    rings = (shape.exterior, *shape.interiors)
    steps = " ".join("M" + "L".join(f"{x:.1f} {-y:.1f}" for x, y in ring.coords[:-1]) + "Z" for ring in rings)
    dash = ' stroke-dasharray="1.5 1"' if open_below else ""
    return f'<path d="{steps}" fill="{fill}" fill-rule="evenodd" stroke="{INK}" stroke-width="0.25"{dash}/>'


def circle(feature: dict[str, Any], radius: float, fill: str, opacity: float = 1.0) -> str:
    x, y = metres(feature)
    return f'<circle cx="{x:.1f}" cy="{-y:.1f}" r="{radius:.1f}" fill="{fill}" fill-opacity="{opacity}"/>'


def metres(feature: dict[str, Any]) -> tuple[float, float]:
    longitude, latitude = feature["geometry"]["coordinates"]
    east, north = LocalPlane(plan.LATITUDE_DEG, plan.LONGITUDE_DEG).to_metres(latitude, longitude)
    return float(east), float(north)


def middle(line: plan.Line) -> plan.Point:
    (x0, y0), (x1, y1) = line[(len(line) - 1) // 2], line[(len(line) - 1) // 2 + 1]
    return (x0 + x1) / 2, (y0 + y1) / 2


def word(text: str, x: float, y: float, size: float, fill: str = INK) -> str:
    plain = text.replace("&", "&amp;").replace("<", "&lt;")
    return f'<text x="{x:.1f}" y="{-y:.1f}" font-size="{size}" font-family="sans-serif" fill="{fill}">{plain}</text>'


def spots(file: Path) -> list[str]:
    if not file.exists():
        return []
    marks = []
    for feature in json.loads(file.read_text("utf-8"))["features"]:
        x, y = metres(feature)
        marks += [circle(feature, 2.0, "#b3261e"), word(feature["properties"]["name"], x + 3, y - 1, 5.5, "#b3261e")]
    return marks
