"""The plan of a workshop as typed in its form: sizes, times as people type them, places beside the spot, who talks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from models.planning.rules.typed import YES, read_count, read_spot, read_yes, spot_or_none, spot_text
from models.planning.street.walk_page import read_pace
from models.planning.workshops.durations import Unit, duration_text, read_duration
from models.problems import InputProblem, InputProblems, noted
from models.store.engine import Store
from models.store.versions import drafted
from models.workshop.plan import (
    LARGEST_GROUP,
    MINUTES,
    MOST_FRAMES,
    MOST_LENT,
    MOST_TESTS,
    SECONDS,
    PlanDraft,
    checked_plan,
)

SECOND: Unit = "s"
MINUTE: Unit = "min"
TEXTS = ("meets_by", "indoors", "talks", "ambulance", "language")
UNITS: dict[str, Unit] = {**dict.fromkeys(SECONDS, SECOND), **dict.fromkeys((*MINUTES, "walk_min"), MINUTE)}
USUAL = PlanDraft(workshop_id=1)
EMPTY_WALK = ("", "worked out")
FORM_FIELDS = {"fallback_ids": "fallbacks", "pace_m_s": "pace"}
"""Fields of the form, by those of the plan."""


def read_plan_form(store: Store, before: PlanDraft, form: Mapping[str, str], spot_id: int) -> PlanDraft:
    """The plan a form describes; blocks that were typed over stay as in `before`. A time left empty is as usual.

    Raises InputProblems with a message beside each field that needs another look.
    """
    problems: dict[str, str] = {}
    values: dict[str, object] = {name: form[name] for name in TEXTS if name in form}
    values["language"] = form.get("language", "").strip().lower() or USUAL.language
    for name, reader in _readers(store, spot_id).items():
        field = FORM_FIELDS.get(name, name)
        with noted(problems, field):
            values[name] = reader(form.get(field, ""))
    if not problems:
        try:
            return checked_plan(replace(drafted(PlanDraft, before), **values))  # type: ignore[arg-type]
        except InputProblem as problem:
            problems[FORM_FIELDS.get(problem.field, problem.field)] = problem.message
    raise InputProblems(problems)


def plan_form_of(store: Store, plan: PlanDraft) -> dict[str, str]:
    """What the form shows; read back it gives the same plan. Spots that were deleted meanwhile go by their numbers."""
    further = [(number, spot_or_none(store, number)) for number in plan.fallback_ids]
    return {
        "group_size": str(plan.group_size),
        "frames": "" if plan.frames is None else str(plan.frames),
        "test_flashes": str(plan.test_flashes),
        "lent": "" if plan.lent is None else str(plan.lent),
        "pace": f"{plan.pace_m_s:.10g} m/s",
        "fallbacks": "\n".join(spot_text(spot, store) if spot else str(number) for number, spot in further),
        "organiser_helps": YES if plan.organiser_helps else "no",
        **{name: duration_text(getattr(plan, name), unit) for name, unit in UNITS.items()},
        **{name: getattr(plan, name) for name in TEXTS},
    }


def understood(form: Mapping[str, str]) -> dict[str, str]:
    """By field, how what was typed is taken; what is empty or cannot be read is left out."""
    said: dict[str, str] = {}
    for name, unit in UNITS.items():
        text = form.get(name, "").strip()
        with noted({}, name):
            if text not in EMPTY_WALK and text != duration_text(read_duration(name, text, unit), unit):
                said[name] = duration_text(read_duration(name, text, unit), unit)
    return said


def _readers(store: Store, spot_id: int) -> dict[str, Callable[[str], object]]:
    readers: dict[str, Callable[[str], object]] = {
        "group_size": lambda text: (
            read_count("group_size", text, 1, LARGEST_GROUP) if text.strip() else USUAL.group_size
        ),
        "frames": lambda text: read_count("frames", text, 1, MOST_FRAMES) if text.strip() else None,
        "test_flashes": lambda text: read_count("test_flashes", text or "0", 0, MOST_TESTS),
        "lent": lambda text: read_count("lent", text, 0, MOST_LENT) if text.strip() else None,
        "pace_m_s": read_pace,
        "fallback_ids": lambda text: _fallbacks(store, text, spot_id),
        "organiser_helps": lambda text: read_yes("organiser_helps", text),
        "walk_min": lambda text: None if text.strip().lower() in EMPTY_WALK else read_duration("walk_min", text, "min"),
    }
    return {**{name: _timed(name) for name in (*SECONDS, *MINUTES)}, **readers}


def _timed(name: str) -> Callable[[str], object]:
    return lambda text: read_duration(name, text, UNITS[name]) if text.strip() else getattr(USUAL, name)


def _fallbacks(store: Store, text: str, spot_id: int) -> tuple[int, ...]:
    """One spot a line, by name or number, in order."""
    found = []
    for line in filter(None, map(str.strip, text.splitlines())):
        spot = read_spot("fallbacks", line, store)
        if spot.id == spot_id:
            raise InputProblem("fallbacks", f"{spot.name} is the workshop's own spot: leave it out.")
        found.append(spot.id)
    return tuple(dict.fromkeys(found))
