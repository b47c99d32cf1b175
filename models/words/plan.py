"""What is said of a workshop's plan: how it is run, and what nobody filled in yet."""

from __future__ import annotations

from collections.abc import Sequence

from models.words.said import Said, listed, said
from models.workshop.plan import PlanDraft
from models.workshop.rota import FRAMES, FRAMES_FULL

NOT_FILLED = "not filled in"
MISSING: dict[str, str] = {
    "meets_by": "words to find the meeting point by",
    "indoors": "where to meet in rain",
    "talks": "who talks if you are asked to stop",
    "ambulance": "the address an ambulance is sent to",
}


def missing_of(plan: PlanDraft, *, has_fallback: bool) -> tuple[str, ...]:
    """What is not filled in, in words."""
    found = [words for name, words in MISSING.items() if not getattr(plan, name)]
    return (*found, *(() if has_fallback else ("a spot to go to instead",)))


def plan_facts(plan: PlanDraft, stations: Sequence[str], further: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """(what, in words) for the workshop's own page. further: names of fallback spots after the first, in order."""
    facts = (
        ("Stations", listed(list(stations)) or "none yet"),
        ("Groups of", f"{plan.group_size} people"),
        ("Found by", plan.meets_by or NOT_FILLED),
        ("In rain", plan.indoors or NOT_FILLED),
        ("Then to", listed(list(further))),
        ("Who talks", plan.talks or NOT_FILLED),
    )
    return tuple(fact for fact in facts if fact[1])


def plan_answer(plan: PlanDraft, decide_at: str, missing: tuple[str, ...]) -> Said:
    """'Groups of 3, 10 frames a turn, 8 where every group is full. The fallback is decided on by 16:30 CEST. ...'"""
    frames = f"{plan.frames} frames a turn" if plan.frames else (
        f"{FRAMES} frames a turn, {FRAMES_FULL} where every group is full"
    )  # fmt: skip
    start = said("", f"Groups of {plan.group_size}, {frames}", ". The fallback is decided on by ", decide_at, ".")
    return start + (
        said(" ", "Still to be filled in", f": {listed(missing)}.") if missing else said(" All is filled in.")
    )
