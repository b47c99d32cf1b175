"""The running order typed over: minutes and a note for any block; the rest moves by itself."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from models.planning.rules.typed import read_count
from models.planning.workshops.durations import read_duration
from models.problems import InputProblem, InputProblems, noted
from models.store.engine import Store
from models.store.plans import keep_plan, plan_of
from models.store.rules import get_workshop
from models.store.versions import drafted
from models.street.spot import trimmed
from models.workshop.plan import LONGEST_MIN, MOST_BLOCKS, MOST_LENT, BlockEdit, Plan, PlanDraft

LONGEST_BLOCK_NOTE = 200


def field_of_block(key: str, what: str) -> str:
    """'minutes_round_2', 'note_set_up'."""
    return f"{what}_{key.replace(' ', '_')}"


def keep_blocks(store: Store, workshop_id: int, version: int, form: Mapping[str, str]) -> Plan:
    """Blocks as typed in a form whose field "blocks" names them, with bars between. Empty minutes are worked out again;
    blocks that are not named stay as they are.

    version: of the plan, 0 where none is kept. Raises InputProblems by field, Clash, Missing.
    """
    with store.writing() as s:
        get_workshop(s, workshop_id)
        plan = plan_of(s, workshop_id)
        return keep_plan(s, version, replace(drafted(PlanDraft, plan), blocks=_read(plan.blocks, form)))


def keep_lent(store: Store, workshop_id: int, version: int, text: str) -> Plan:
    """Plan with so many hands lent. version: of the plan, 0 where none is kept. Raises InputProblem, Clash, Missing."""
    lent = read_count("lent", text, 0, MOST_LENT)
    with store.writing() as s:
        get_workshop(s, workshop_id)
        return keep_plan(s, version, replace(drafted(PlanDraft, plan_of(s, workshop_id)), lent=lent))


def _read(before: tuple[BlockEdit, ...], form: Mapping[str, str]) -> tuple[BlockEdit, ...]:
    problems: dict[str, str] = {}
    keys = [key for key in form.get("blocks", "").split("|") if key][:MOST_BLOCKS]
    found = {edit.key: edit for edit in before if edit.key not in keys}
    for key in keys:
        minutes_field, note_field = field_of_block(key, "minutes"), field_of_block(key, "note")
        minutes, note = None, ""
        with noted(problems, minutes_field):
            minutes = _minutes(minutes_field, form.get(minutes_field, ""))
        with noted(problems, note_field):
            note = trimmed(note_field, form.get(note_field, ""), LONGEST_BLOCK_NOTE)
        found[key] = BlockEdit(key, minutes, " ".join(note.split()))
    if problems:
        raise InputProblems(problems)
    return tuple(found.values())


def _minutes(field: str, text: str) -> float | None:
    if not text.strip():
        return None
    minutes = read_duration(field, text, "min")
    if not 0 <= minutes <= LONGEST_MIN:
        raise InputProblem(field, f"{minutes:g} minutes: give 0 to {LONGEST_MIN:g}.")
    return minutes
