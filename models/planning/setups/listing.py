"""The list of setups, each with its lights and the spots and hours kept with it."""

from __future__ import annotations

from dataclasses import dataclass

from models.planning.setups.keeping import all_setups
from models.planning.setups.kit import WholeKit, kit_notes, whole_kit
from models.store.engine import Store
from models.store.setups import KeptSetup, LightDraft
from models.store.spots import Spot, list_spots
from models.words.said import listed

MOST_TO_CHOOSE = 60
COUNTS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten")


@dataclass(frozen=True, slots=True)
class SetupRow:
    """lights: in words. wrong: kit that is gone or retired, in words."""

    id: int
    title: str
    lights: str
    notes: str
    tries: int
    wrong: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SetupsPage:
    """at_spot: where they are about to be opened, None off a spot."""

    answer: str
    rows: tuple[SetupRow, ...]
    at_spot: Spot | None = None


def setups_page(store: Store, at_spot: Spot | None = None) -> SetupsPage:
    setups, whole = all_setups(store), whole_kit(store)
    rows = tuple(_row(setup, whole) for setup in setups)
    if not rows:
        return SetupsPage(
            "No setup is kept yet. Begin with one key light, and see at a spot whether it works.", (), at_spot
        )
    count = COUNTS[len(rows)] if len(rows) < len(COUNTS) else str(len(rows))
    one = len(rows) == 1
    words = f"{count} {'setup' if one else 'setups'} of lights. Open {'it' if one else 'one'} at a spot to see"
    return SetupsPage(
        f"{words} whether it works there, what to dial, and what it leaves of the pavement.", rows, at_spot
    )


def spots_to_choose(store: Store) -> tuple[tuple[str, str], ...]:
    """(number, name) of every spot; none where they are too many for a list."""
    with store.reading() as s:
        spots = list_spots(s, limit=MOST_TO_CHOOSE + 1)
    return tuple((str(spot.id), spot.name) for spot in spots) if len(spots) <= MOST_TO_CHOOSE else ()


def _row(setup: KeptSetup, whole: WholeKit) -> SetupRow:
    gone, retired = kit_notes(setup, whole)
    lights = "; ".join(_light(light, whole) for light in setup.lights)
    return SetupRow(setup.id, setup.title, lights, setup.notes, len(setup.tries), (*gone, *retired))


def _light(light: LightDraft, whole: WholeKit) -> str:
    """'key: small flash with honeycomb grid'."""
    flash = whole.find("flashes", light.flash)
    shapers = [whole.find("modifiers", piece) for piece in (light.modifier, light.grid) if piece]
    names = [piece.name if piece else "kit that is gone" for piece in shapers]
    several = f"{light.units} × " if light.units > 1 else ""
    behind = f" with {listed(names)}" if names else ", bare"
    return f"{light.role}: {several}{flash.name if flash else light.flash}{behind}"
