"""The light a setup is looked at in: that of a spot at a moment, EV figures typed in, or none: flash alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from models.light.exposure import Dialled, EvFigure
from models.light.setup import Setup
from models.light.solve import Solved, solve, solve_at
from models.light.wanted import Wanted
from models.planning.answers import Moment
from models.planning.keeping import get_spot
from models.planning.light import SpotLight, spot_light
from models.planning.now import Now, light_now
from models.planning.sentence import read_looking
from models.problems import InputProblem
from models.store.engine import Store
from models.store.spots import Spot

LOWEST_EV, HIGHEST_EV = -6.0, 20.0
LIT = ("spot", "looking", "ev", "behind")
"""Address parameters that say in which light."""


@dataclass(frozen=True, slots=True, eq=False)
class Lit:
    """subject, behind: EV100 on the face and behind it, as far as they are known. spot and what follows: None off a
    spot."""

    subject: EvFigure | None = None
    behind: EvFigure | None = None
    spot: Spot | None = None
    moment: Moment | None = None
    light: SpotLight | None = None
    now: Now | None = None
    looking_deg: float | None = None


def read_lit(store: Store, asked: Mapping[str, str], spot: Spot | None, moment: Moment | None) -> Lit:
    """Raises InputProblem naming a parameter, or InsideBuilding."""
    if spot is None or moment is None:
        subject, behind = _ev("ev", asked), _ev("behind", asked)
        if behind is not None and subject is None:
            raise InputProblem("ev", "give the EV on the face too")
        return Lit(subject, behind, looking_deg=read_looking(asked.get("looking", "")))
    looking = read_looking(asked["looking"]) if "looking" in asked else spot.looking_deg
    light = spot_light(store, spot, now=moment.instant)
    now = light_now(light, moment, looking)
    return Lit(now.face, now.backdrop, spot, moment, light, now, looking)


def spot_asked(store: Store, asked: Mapping[str, str]) -> Spot | None:
    """The spot named by an address. Raises Missing, InputProblem."""
    text = asked.get("spot", "").strip()
    if not text:
        return None
    if not (text.isascii() and text.isdecimal() and len(text) < 10):
        raise InputProblem("spot", f"“{text}” is no number of a spot")
    return get_spot(store, int(text))


def solved_in(setup: Setup, wanted: Wanted, lit: Lit) -> Solved:
    """Powers and distances for that light; with flash alone at the settings as kept."""
    if lit.subject is not None:
        return solve(setup, wanted, lit.subject, lit.behind)
    return solve_at(setup, wanted, Dialled(setup.settings, 0.0, True, "fits", ()), None, None)


def _ev(name: str, asked: Mapping[str, str]) -> EvFigure | None:
    text = asked.get(name, "").strip().lower().removeprefix("ev").strip().replace("−", "-")
    if not text:
        return None
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        raise InputProblem(name, f"“{text}” is not an EV. Type it like 11.3.") from None
    if not LOWEST_EV <= value <= HIGHEST_EV:
        raise InputProblem(name, f"EV {value:g} is out of reach: give {LOWEST_EV:g} to {HIGHEST_EV:g} at ISO 100.")
    return EvFigure(value)
