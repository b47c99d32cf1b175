"""Bringing in a town or spots from a file: read whole, saved whole, told in sentences; or nothing saved at all."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy.orm import Session

from models.exchange.features import Source
from models.exchange.geojson import read_buildings, read_footways
from models.exchange.heights import HeightRule
from models.exchange.osm import Progress, read_osm
from models.exchange.spots import read_spots
from models.exchange.zones import zone_at
from models.store.engine import Store
from models.store.settings import get_setting
from models.store.spots import add_spots, list_spots
from models.store.town import ImportRow, building_covering, list_imports, replace_import
from models.street.scene import EYE_M
from models.street.spot import SpotDraft
from models.street.town import Box, TownDraft, box_of, box_round

SAME_PLACE_M = 20.0
"""A spot of the same name so near is the same spot: our planning rule, no source."""
MOST_NAMES = 5


@dataclass(frozen=True, slots=True)
class ImportReport:
    """What an import brought. words: sentences for page and terminal, the answer first."""

    name: str
    words: tuple[str, ...]
    buildings: int = 0
    assumed_buildings: int = 0
    trees: int = 0
    footways: int = 0
    lamps: int = 0
    spots: int = 0


def import_osm(
    store: Store,
    path: str | Path,
    bbox: Box | None = None,
    progress: Progress = lambda words: None,
    *,
    name: str | None = None,
) -> ImportReport:
    """A town from an OpenStreetMap file, or a box of it. It takes the place of an earlier import of this name."""
    read = read_osm(path, bbox, rule=_rule(store), progress=progress)
    progress("saving")
    return _keep(store, name or _stem(path), read.town, read.notes)


def import_buildings(store: Store, source: Source, *, name: str | None = None) -> ImportReport:
    """Buildings from GeoJSON. They take the place of an earlier import of this name."""
    read = read_buildings(source, _rule(store))
    return _keep(store, name or f"{_stem(source)} (buildings)", TownDraft(buildings=read.buildings), read.notes)


def import_footways(store: Store, source: Source, *, name: str | None = None) -> ImportReport:
    """Footways from GeoJSON. They take the place of an earlier import of this name."""
    read = read_footways(source)
    return _keep(store, name or f"{_stem(source)} (footways)", TownDraft(footways=read.footways), read.notes)


def import_spots(store: Store, source: Source, *, zone: str | None = None) -> ImportReport:
    """Spots from GeoJSON. Those already there, by name and place, stay as they are. zone: for all, over the file's."""
    read = read_spots(source, zone_at, zone)
    with store.writing() as s:
        new = [draft for draft in read.spots if not _is_there(s, draft)]
        add_spots(s, new)
        inside = [draft.name for draft in new if _is_inside(s, draft)]
    there = len(read.spots) - len(new)
    words = (
        f"{_counted(len(new), 'spot')} brought in.",
        *(
            [f"{_counted(there, 'spot')} of the same name and place were there already and stay as they are."]
            * (there > 0)
        ),
        *_zone_words(new),
        *([f"Inside a building, to be moved or given a roof: {_names(inside)}."] * bool(inside)),
        *read.notes,
    )
    return ImportReport(_stem(source), words, spots=len(new))


def _rule(store: Store) -> HeightRule:
    with store.reading() as s:
        return HeightRule(get_setting(s, "storey_height_m"), get_setting(s, "assumed_height_m"))


def _keep(store: Store, name: str, town: TownDraft, notes: Sequence[str]) -> ImportReport:
    with store.writing() as s:
        replaced = any(kept.name == name for kept in list_imports(s))
        row = replace_import(s, name, town)
    again = [f"It takes the place of the earlier import “{name}”."] if replaced else []
    words = (_answer(row), *again, *_where(town), *notes)
    return ImportReport(name, words, row.buildings, row.assumed_buildings, row.trees, row.footways, row.lamps)


def _answer(row: ImportRow) -> str:
    counts = {"building": row.buildings, "tree": row.trees, "footway": row.footways, "street lamp": row.lamps}
    brought = ", ".join(_counted(count, what) for what, count in counts.items() if count)
    return f"Brought in as “{row.name}”: {brought or 'nothing, the file is empty'}."


def _where(town: TownDraft) -> Iterable[str]:
    points = [
        *(point for building in town.buildings for point in building.rings[0]),
        *(point for way in town.footways for point in way.line),
    ]
    if points:
        box = box_of(points)
        yield (
            f"They lie between latitude {box.south:.4f} and {box.north:.4f}, "
            f"longitude {box.west:.4f} and {box.east:.4f}."
        )


def _zone_words(spots: Sequence[SpotDraft]) -> Iterable[str]:
    zones = sorted({spot.zone for spot in spots})
    if zones:
        yield f"Time zone: {', '.join(zones)}."


def _is_there(s: Session, draft: SpotDraft) -> bool:
    near = list_spots(s, box=box_round(draft.latitude_deg, draft.longitude_deg, SAME_PLACE_M), limit=1000)
    return any(spot.name.casefold() == draft.name.casefold() for spot in near)


def _is_inside(s: Session, draft: SpotDraft) -> bool:
    over = building_covering(s, draft.latitude_deg, draft.longitude_deg, floor_m=draft.floor_m)
    return draft.roof == "none" and over is not None and over.bottom_m - draft.floor_m < EYE_M


def _names(names: Sequence[str]) -> str:
    more = f" and {len(names) - MOST_NAMES} more" if len(names) > MOST_NAMES else ""
    return ", ".join(names[:MOST_NAMES]) + more


def _counted(count: int, what: str) -> str:
    return f"{count:,} {what}" if count == 1 else f"{count:,} {what}s"


def _stem(source: Source) -> str:
    """The file's name without its endings: city.osm.pbf is city."""
    return "upload" if isinstance(source, bytes) else Path(source).name.split(".")[0] or "file"
