"""The kit that a setup names, found again: what was retired or is gone is said by name."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from models.light.accessories import Filter, Gel, Stand
from models.light.battery import BatterySet
from models.light.kit import Camera, Flash, Kit, Modifier, Trigger
from models.light.setup import Light, Setup
from models.planning.kit import with_readings
from models.problems import InputProblem
from models.store.engine import Store
from models.store.kit import KitEntry, list_entries
from models.store.readings import list_readings
from models.store.setups import LightDraft, SetupDraft

PLURALS: dict[str, type[Any]] = {
    "flashes": Flash,
    "modifiers": Modifier,
    "cameras": Camera,
    "triggers": Trigger,
    "batteries": BatterySet,
    "gels": Gel,
    "filters": Filter,
    "stands": Stand,
}
WORDS = {
    "flashes": "flash",
    "modifiers": "modifier",
    "cameras": "camera",
    "triggers": "trigger",
    "batteries": "battery set",
    "gels": "gel",
    "stands": "stand",
}
Piece = TypeVar("Piece")


@dataclass(frozen=True, slots=True)
class WholeKit:
    """kit: retired pieces too, what was metered in place of what is printed. retired: (kind, id) of those."""

    kit: Kit
    retired: frozenset[tuple[str, str]]

    @property
    def owned(self) -> Kit:
        """What may still be chosen."""
        kept = {
            kind: tuple(piece for piece in getattr(self.kit, kind) if (kind, piece.id) not in self.retired)
            for kind in PLURALS
        }
        return Kit(**kept)

    def find(self, kind: str, piece_id: str) -> Any:
        """One piece, None where there is none of this id."""
        return next((piece for piece in getattr(self.kit, kind) if piece.id == piece_id), None)


def whole_kit(store: Store) -> WholeKit:
    with store.reading() as s:
        entries: dict[str, tuple[KitEntry[Any], ...]] = {
            kind: list_entries(s, piece) for kind, piece in PLURALS.items()
        }
        readings = list_readings(s)
    kit = Kit(**{kind: tuple(entry.item for entry in found) for kind, found in entries.items()})
    retired = frozenset((kind, entry.item.id) for kind, found in entries.items() for entry in found if entry.retired)
    return WholeKit(with_readings(kit, kit.flashes, readings), retired)


def kit_notes(draft: SetupDraft, whole: WholeKit) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What it names that is gone, and what was retired, each in words."""
    gone, retired = [], []
    for kind, piece_id in named_kit(draft):
        if (found := whole.find(kind, piece_id)) is None:
            gone.append(f"The {WORDS[kind]} “{piece_id}” is not in the kit any more. Choose another one.")
        elif (kind, piece_id) in whole.retired:
            retired.append(f"{found.name[:1].upper()}{found.name[1:]} was retired; its figures still stand here.")
    return tuple(gone), tuple(retired)


def named_kit(draft: SetupDraft) -> tuple[tuple[str, str], ...]:
    """(kind, id) of every piece, once each."""
    named: dict[tuple[str, str], None] = {("cameras", draft.camera): None}
    if draft.trigger:
        named["triggers", draft.trigger] = None
    for light in draft.lights:
        for field, kind in FIELDS.items():
            if piece_id := getattr(light, field):
                named[kind, piece_id] = None
    return tuple(named)


FIELDS: Mapping[str, str] = {
    "flash": "flashes",
    "modifier": "modifiers",
    "grid": "modifiers",
    "gel": "gels",
    "battery": "batteries",
    "stand": "stands",
}
"""Fields of a light that name kit, and its kind."""


def setup_of(draft: SetupDraft, whole: WholeKit) -> Setup:
    """The setup that a draft means. Raises InputProblem naming the field: light_1_distance_m, camera, ..."""
    lights = tuple(_light(light, number, whole) for number, light in enumerate(draft.lights, start=1))
    return Setup(
        lights=lights,
        camera=_piece("camera", "cameras", draft.camera, whole),
        trigger=_piece("trigger", "triggers", draft.trigger, whole) if draft.trigger else None,
        settings=draft.settings,
        surroundings_under=draft.surroundings_under,
        face_under=draft.face_under,
    )


def _light(light: LightDraft, number: int, whole: WholeKit) -> Light:
    prefix = f"light_{number}_"
    kit: dict[str, Any] = {
        field: _piece(f"{prefix}{field}", kind, getattr(light, field), whole) if getattr(light, field) else None
        for field, kind in FIELDS.items()
    }
    try:
        return Light(
            role=light.role,
            distance_m=light.distance_m,
            height_m=light.height_m,
            axis_deg=light.axis_deg,
            power=light.power,
            units=light.units,
            zoom_mm=light.zoom_mm,
            held=light.held,
            **kit,
        )
    except InputProblem as problem:
        raise InputProblem(f"{prefix}{problem.field}", problem.message) from problem


def _piece(field: str, kind: str, piece_id: str, whole: WholeKit) -> Any:
    found = whole.find(kind, piece_id)
    if found is None:
        raise InputProblem(field, f"“{piece_id}” is not in the kit. Choose another one.")
    return found
