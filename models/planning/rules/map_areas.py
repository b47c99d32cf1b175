"""Rule areas as the map draws them, and as a file to take away (RFC 7946: longitude first)."""

from __future__ import annotations

from typing import Any

from models.exchange.areas import areas_collection
from models.rules.areas import KINDS
from models.store import rules as kept
from models.store.engine import Store
from models.street.town import Box

MOST_AREAS = 2000


def areas_in_view(store: Store, box: Box) -> dict[str, Any]:
    """The areas in view, each with its number and the words of its popup."""
    with store.reading() as s:
        found = kept.areas_in_view(s, box, MOST_AREAS)
    collection = areas_collection(found)
    for feature, area in zip(collection["features"], found, strict=True):
        passing = ", to be asked about for walking through too" if area.no_passing else ""
        words = f"{KINDS[area.kind]}{passing}; {area.authority}"
        feature["properties"] = {"name": area.name, "kind": area.kind, "words": words}
    return collection


def areas_to_take(store: Store) -> dict[str, Any]:
    """All areas, as `import areas` reads them."""
    with store.reading() as s:
        return areas_collection(kept.list_areas(s, limit=None))
