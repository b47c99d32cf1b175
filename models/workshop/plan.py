"""How one workshop is run: the times it takes, its places beside the spot, and blocks that were typed over.

Times are common practice, no source, and may all be changed for each workshop.
"""

from __future__ import annotations

from dataclasses import dataclass

from models.street.walking import GROUP_PACE_M_S
from models.workshop.rota import GROUP_SIZE


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
    talks: who talks if we are asked to stop. organiser_helps: the organiser can be lent as a hand.
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
