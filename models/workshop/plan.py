"""How one workshop is run: the times it takes, its places beside the spot, and blocks that were typed over.

Times are common practice, no source, and may all be changed for each workshop.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from models.problems import InputProblem
from models.street.spot import LONGEST_NAME, trimmed
from models.street.walking import FASTEST_M_S, GROUP_PACE_M_S, SLOWEST_M_S
from models.workshop.checks import number_of, truth, whole, within
from models.workshop.rota import GROUP_SIZE

MOST_FALLBACKS = 6
MOST_BLOCKS = 100
LARGEST_GROUP, MOST_FRAMES, MOST_TESTS, MOST_LENT = 12, 100, 500, 40
LONGEST_S, LONGEST_MIN = 600.0, 240.0
SECONDS = ("pose_s", "handover_s", "move_s", "wide_s", "gap_s")
MINUTES = (
    "meet_min", "drink_min", "setup_min", "safety_min", "group_picture_min", "pack_min", "release_min", "decide_min",
)  # fmt: skip
TEXTS = ("meets_by", "indoors", "ambulance")


@dataclass(frozen=True, slots=True)
class BlockEdit:
    """What was typed over in the running order. key: of the block ("meet", "walk", "round 2"). minutes: None as worked
    out. note: shown beside it."""

    key: str
    minutes: float | None = None
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanDraft:
    """One for each workshop. frames: a turn, None for 10, or 8 where every group is full.

    pose_s: between two frames, posing and looking. handover_s: trigger and lights to the next hands. move_s: to the
    next station. wide_s: one wide picture of the set after each turn. walk_min: None as worked out from the way.
    meets_by: words to find the meeting point by. indoors: where to meet in rain. fallback_ids: further spots to go to,
    in order, after the workshop's first. decide_min: before setting up, by when the fallback is decided on.
    talks: who talks if we are asked to stop. organiser_helps: the organiser can be lent as a hand. lent: hands from
    outside the groups that are planned with at any one time, None for as many as there are helpers.
    """

    workshop_id: int
    group_size: int = GROUP_SIZE
    frames: int | None = None
    pose_s: float = 6.0
    handover_s: float = 20.0
    move_s: float = 90.0
    wide_s: float = 20.0
    gap_s: float = 3.0
    meet_min: float = 10.0
    drink_min: float = 10.0
    walk_min: float | None = None
    pace_m_s: float = GROUP_PACE_M_S
    setup_min: float = 15.0
    safety_min: float = 5.0
    group_picture_min: float = 5.0
    pack_min: float = 10.0
    release_min: float = 5.0
    test_flashes: int = 20
    lent: int | None = None
    meets_by: str = ""
    indoors: str = ""
    fallback_ids: tuple[int, ...] = ()
    decide_min: float = 30.0
    talks: str = ""
    ambulance: str = ""
    language: str = "en"
    organiser_helps: bool = True
    blocks: tuple[BlockEdit, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan(PlanDraft):
    """As kept; hand `version` back with a change."""

    id: int
    version: int


def checked_plan(draft: PlanDraft) -> PlanDraft:
    """The draft with its texts trimmed. Raises InputProblem naming the field; a block's is called 'blocks 3'."""
    number_of("workshop_id", draft.workshop_id)
    whole("group_size", draft.group_size, 1, LARGEST_GROUP, "people")
    if draft.frames is not None:
        whole("frames", draft.frames, 1, MOST_FRAMES, "frames")
    for field in SECONDS:
        within(field, getattr(draft, field), 0.0, LONGEST_S, "seconds")
    for field in MINUTES:
        within(field, getattr(draft, field), 0.0, LONGEST_MIN, "minutes")
    if draft.walk_min is not None:
        within("walk_min", draft.walk_min, 0.0, LONGEST_MIN, "minutes")
    within("pace_m_s", draft.pace_m_s, SLOWEST_M_S, FASTEST_M_S, "metres a second")
    whole("test_flashes", draft.test_flashes, 0, MOST_TESTS, "flashes")
    if draft.lent is not None:
        whole("lent", draft.lent, 0, MOST_LENT, "hands")
    truth("organiser_helps", draft.organiser_helps)
    if not re.fullmatch(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8})?", draft.language):
        raise InputProblem("language", "is a language's short code, like en or nl")
    tidy = replace(draft, fallback_ids=_fallbacks(draft.fallback_ids), blocks=_blocks(draft.blocks))
    talks = " ".join(trimmed("talks", draft.talks, LONGEST_NAME).split())
    meets_by, indoors, ambulance = (trimmed(field, getattr(draft, field)) for field in TEXTS)
    return replace(tidy, talks=talks, meets_by=meets_by, indoors=indoors, ambulance=ambulance)


def _fallbacks(ids: tuple[int, ...]) -> tuple[int, ...]:
    if len(ids) > MOST_FALLBACKS:
        raise InputProblem("fallback_ids", f"{len(ids)} further spots; at most {MOST_FALLBACKS}")
    for each in ids:
        number_of("fallback_ids", each)
    return tuple(dict.fromkeys(ids))


def _blocks(blocks: tuple[BlockEdit, ...]) -> tuple[BlockEdit, ...]:
    """The last edit of each block, those that change nothing left out."""
    if len(blocks) > MOST_BLOCKS:
        raise InputProblem("blocks", f"{len(blocks)} blocks typed over; at most {MOST_BLOCKS}")
    tidy = {}
    for number, block in enumerate(blocks, start=1):
        field = f"blocks {number}"
        key, note = trimmed(field, block.key, LONGEST_NAME), trimmed(field, block.note)
        if not key:
            raise InputProblem(field, "names no block")
        if block.minutes is not None:
            within(field, block.minutes, 0.0, LONGEST_MIN, "minutes")
        tidy[key] = replace(block, key=key, note=note)
    return tuple(block for block in tidy.values() if block.minutes is not None or block.note)
