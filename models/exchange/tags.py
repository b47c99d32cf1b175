"""What tags say of trees and ways, whichever file they stand in.

The sizes assumed for trees are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping

from models.exchange.heights import metres

TREE_M = 10.0
CROWN_RADIUS_M = 3.0
LEAST_CROWN_M, WIDEST_CROWN_M = 0.2, 30.0
LEAST_TREE_M, TALLEST_TREE_M = 1.0, 120.0  # the tallest living tree known is some 116 m
WIDEST_WAY_M = 200.0
LIT = {"yes": True, "24/7": True, "automatic": True, "sunset-sunrise": True, "limited": True, "interval": True}
DARK = ("no", "disused")
HINTED: dict[str, tuple[str, tuple[str, ...]]] = {
    "entrance": ("railway", ("subway_entrance", "train_station_entrance")),
    "station": ("railway", ("station", "halt")),
    "tram": ("railway", ("tram_stop",)),
    "bus": ("highway", ("bus_stop",)),
    "school": ("amenity", ("school",)),
    "market": ("amenity", ("marketplace",)),
}
"""The tag that names each of footfall's HINTS."""
COMFORTED: dict[str, tuple[str, tuple[str, ...]]] = {
    "toilets": ("amenity", ("toilets",)),
    "shelter": ("amenity", ("shelter",)),
    "coffee": ("amenity", ("cafe",)),
}
"""The tag that names each of COMFORTS."""
CLOSED_TO_GUESTS = ("private", "no")
LONGEST_NAME = 60

Tags = Mapping[str, object]


def crown(tags: Tags) -> tuple[float, float, bool]:
    """Height and crown radius in metres, and whether either was assumed."""
    height_m = _length(tags, "height", LEAST_TREE_M, TALLEST_TREE_M)
    diameter_m = _length(tags, "diameter_crown", LEAST_CROWN_M, WIDEST_CROWN_M)
    radius_m = CROWN_RADIUS_M if diameter_m is None else diameter_m / 2
    return height_m or TREE_M, radius_m, height_m is None or diameter_m is None


def width_m(tags: Tags) -> float | None:
    return _length(tags, "width", 0.1, WIDEST_WAY_M)


def surface(tags: Tags) -> str | None:
    """The first surface named."""
    value = tags.get("surface")
    return (value.split(";")[0].strip()[:60] or None) if isinstance(value, str) else None


def lit(tags: Tags) -> bool | None:
    value = tags.get("lit")
    if isinstance(value, bool):
        return value
    if not isinstance(value, str):
        return None
    return False if value in DARK else LIT.get(value)


def hint(tags: Tags) -> str | None:
    """Which of footfall's HINTS it is, None for anything else; a station that is closed or only planned is none."""
    return _kind(tags, HINTED)


def comfort(tags: Tags) -> str | None:
    """Which of COMFORTS it is, None for anything else and for what is only for some."""
    return None if tags.get("access") in CLOSED_TO_GUESTS else _kind(tags, COMFORTED)


def name(tags: Tags) -> str:
    """On one line, cut where it is very long."""
    value = tags.get("name")
    return " ".join(value.split())[:LONGEST_NAME] if isinstance(value, str) else ""


def _kind(tags: Tags, named: Mapping[str, tuple[str, tuple[str, ...]]]) -> str | None:
    return next((kind for kind, (key, values) in named.items() if tags.get(key) in values), None)


def _length(tags: Tags, key: str, least: float, most: float) -> float | None:
    number = metres(tags.get(key))
    return number if number is not None and least <= number <= most else None
