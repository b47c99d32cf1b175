"""What happened on the day that the plan did not have: nobody is blamed, everything is planned anew from there.

Kept in the order of their instants; one can be taken back. The rota is always worked out: first as planned, then anew
at each happening.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

Kind = Literal["not come", "came late", "left", "model left", "station lost", "station back", "spot lost", "round done"]


@dataclass(frozen=True, slots=True, kw_only=True)
class HappeningDraft:
    """about: number of the person or station it is about, None for the spot, or the round for "round done".

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
