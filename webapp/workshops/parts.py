"""What a workshop's page leads to, and its form for moving it."""

from __future__ import annotations

from dataclasses import dataclass

from flask import current_app

from models.planning.workshops.moving import EXAMPLES


@dataclass(frozen=True, slots=True)
class Part:
    endpoint: str
    words: str


@dataclass(frozen=True, slots=True)
class Move:
    """What was typed into the field of a move, and what is wrong with it."""

    typed: str = ""
    wrong: str = ""
    examples: str = EXAMPLES


PARTS = (
    Part("people.listing", "People"),
    Part("stations.listing", "Stations"),
    Part("workshops.plan", "How it is run"),
    Part("running.order", "Running order"),
    Part("briefings.page", "Briefing"),
    Part("street.hazards", "Hazards sheet"),
)


def parts_there() -> tuple[Part, ...]:
    """Those that have a page."""
    return tuple(part for part in PARTS if part.endpoint in current_app.view_functions)
