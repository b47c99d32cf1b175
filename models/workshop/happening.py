"""What happened on the day that the plan did not have: nobody is blamed, everything is planned anew from there.

Kept in the order of their instants; one can be taken back. The rota is always worked out: first as planned, then anew
at each happening.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal, get_args

from models.problems import InputProblem
from models.street.spot import trimmed
from models.workshop.checks import number_of, whole

Kind = Literal["not come", "came late", "left", "model left", "station lost", "station back", "spot lost", "round done"]
KINDS: tuple[Kind, ...] = get_args(Kind)
OF_PERSON: tuple[Kind, ...] = ("not come", "came late", "left", "model left")
OF_STATION: tuple[Kind, ...] = ("station lost", "station back")
MOST_ROUNDS = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class HappeningDraft:
    """about: number of the person or station it is about, None for the spot, or the round for "round done". A person
    nobody has a name for yet goes by the place in the rota, below 0.

    round, turn: from 1, how far the rota had got then: rounds before `round` are shot, and of that round `turn` - 1
    turns; at: the instant (UTC).
    """

    workshop_id: int
    kind: Kind
    at: datetime
    about: int | None = None
    round: int = 1
    turn: int = 1
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Happening(HappeningDraft):
    id: int
    version: int


def checked_happening(draft: HappeningDraft) -> HappeningDraft:
    """The draft with its note trimmed. Raises InputProblem naming the field."""
    number_of("workshop_id", draft.workshop_id)
    if draft.kind not in KINDS:
        raise InputProblem("kind", f"{str(draft.kind)[:40]!r} is not known; choose {', '.join(KINDS)}")
    if not isinstance(draft.at, datetime) or draft.at.utcoffset() is None:
        raise InputProblem("at", f"{str(draft.at)[:40]!r} is not an instant with its zone")
    if draft.kind == "spot lost":
        if draft.about is not None:
            raise InputProblem("about", "losing the spot is about nobody")
    elif draft.about is None:
        raise InputProblem("about", f"say {_asked_of(draft.kind)}")
    elif draft.about < 0 and draft.kind in OF_PERSON:
        number_of("about", -draft.about)
    else:
        number_of("about", draft.about)
    whole("round", draft.round, 1, MOST_ROUNDS)
    whole("turn", draft.turn, 1, MOST_ROUNDS)
    return replace(draft, note=trimmed("note", draft.note))


def _asked_of(kind: Kind) -> str:
    return "who" if kind in OF_PERSON else "which station" if kind in OF_STATION else "which round"
