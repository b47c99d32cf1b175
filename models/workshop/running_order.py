"""The running order: blocks of a workshop from meeting to release, and the short order of a fallback.

A workshop's `starts` is its set-up and its `ends` is when all is packed up. Meeting, drink and walk lie before `starts`
and are laid back from it, so a longer walk means an earlier meeting and leaves the set-up where its light is. From the
set-up on, every block follows the one before; releasing people and walking back come after packing.

By hand: set-up at 17:00, 10 minutes each to meet and for a drink, a walk of 12, set-up 15, safety word 5, rounds of 350
and 260 s, group picture 5, pack 10: meet at 16:28, rounds from 17:20:00 and 17:25:50 to 17:30:10, packed at 17:45:10.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from itertools import zip_longest

from models.problems import InputProblem
from models.workshop.plan import BlockEdit, PlanDraft
from models.workshop.schedule import Schedule

MEET, DRINK, WALK, SET_UP, SAFETY = "meet", "drink", "walk", "set up", "safety"
PICTURE, PACK, RELEASE, WALK_BACK = "group picture", "pack", "release", "walk back"
BEFORE = (MEET, DRINK, WALK)
HEADS_AT = (MEET, WALK, RELEASE, WALK_BACK)
"""Heads are counted when people have met, where a walk ends, and before anybody is released."""
LONGEST_MIN = 24 * 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """key: as BlockEdit has it. starts, ends: UTC. worked_out_s: its length had nobody typed one; low_s, high_s: what
    that is at the ends of the footfall's interval. known: False where its length is not known and nothing was typed; it
    then takes no time. round: from 1. heads: heads are to be counted in it."""

    key: str
    starts: datetime
    ends: datetime
    worked_out_s: float
    low_s: float
    high_s: float
    typed: bool = False
    known: bool = True
    heads: bool = False
    round: int | None = None
    note: str = ""

    @property
    def length_s(self) -> float:
        return (self.ends - self.starts).total_seconds()

    @property
    def short_s(self) -> float:
        """How much less was typed than is needed, 0 where it is enough."""
        return max(self.worked_out_s - self.length_s, 0.0) if self.typed else 0.0


@dataclass(frozen=True, slots=True)
class RunningOrder:
    """starts, ends: the workshop's, set-up to packed up. over_s: packed up so much after `ends`, below 0 before it."""

    blocks: tuple[Block, ...]
    starts: datetime
    ends: datetime
    schedule: Schedule

    @property
    def packed(self) -> datetime:
        return next((block.ends for block in self.blocks if block.key == PACK), self.starts)

    @property
    def over_s(self) -> float:
        return (self.packed - self.ends).total_seconds()

    @property
    def fits(self) -> bool:
        return self.over_s <= 0

    @property
    def length_s(self) -> float:
        return (self.blocks[-1].ends - self.blocks[0].starts).total_seconds() if self.blocks else 0.0

    def block(self, key: str) -> Block | None:
        return next((block for block in self.blocks if block.key == key), None)

    def at(self, instant: datetime) -> Block | None:
        """The block then."""
        return next((block for block in self.blocks if block.starts <= instant < block.ends), None)

    def instant(self, round_number: int, at_s: float) -> datetime:
        """When a second of the schedule in that round comes, blocks that were typed over taken in."""
        block = next(block for block in self.blocks if block.round == round_number)
        return block.starts + timedelta(seconds=at_s - self.schedule.rounds[round_number - 1].starts_s)


def running_order(
    plan: PlanDraft,
    starts: datetime,
    ends: datetime,
    schedule: Schedule,
    *,
    walk_s: float | None = None,
    back_s: float | None = None,
    walks_back: bool = False,
) -> RunningOrder:
    """All blocks. walk_s, back_s: as worked out from the way, None where it is not known; a walk back is there where
    it is asked for. The schedule may begin at any second. InputProblem names a block whose minutes cannot be meant."""
    edits = {edit.key: edit for edit in plan.blocks}
    walk = walk_s if plan.walk_min is None else plan.walk_min * 60
    ahead = [_usual(MEET, plan.meet_min), _usual(DRINK, plan.drink_min), _length(WALK, walk)]
    then = [_usual(SET_UP, plan.setup_min), _usual(SAFETY, plan.safety_min), *_rounds(schedule)]
    then += [_usual(PICTURE, plan.group_picture_min), _usual(PACK, plan.pack_min), _usual(RELEASE, plan.release_min)]
    then += [_length(WALK_BACK, back_s)] if walks_back else []
    before = _laid(ahead, edits, starts)
    early = sum((block.ends - block.starts for block in before), timedelta())
    blocks = (*(_moved(block, -early) for block in before), *_laid(then, edits, starts))
    return RunningOrder(blocks, starts, ends, schedule)


def seconds_for_rounds(plan: PlanDraft, starts: datetime, ends: datetime) -> float:
    """What is left for the rounds between set-up, safety word, group picture and packing."""
    usual = {SET_UP: plan.setup_min, SAFETY: plan.safety_min, PICTURE: plan.group_picture_min, PACK: plan.pack_min}
    typed = {edit.key: edit.minutes for edit in plan.blocks if edit.minutes is not None}
    return (ends - starts).total_seconds() - 60 * sum(typed.get(key, minutes) for key, minutes in usual.items())


def unknown_edits(plan: PlanDraft, order: RunningOrder) -> tuple[BlockEdit, ...]:
    """What was typed for blocks that are no longer there, such as a fifth round of four."""
    keys = {block.key for block in order.blocks}
    return tuple(edit for edit in plan.blocks if edit.key not in keys)


def decide_by(plan: PlanDraft, starts: datetime) -> datetime:
    """When it is decided whether to go to the fallback."""
    return starts - timedelta(minutes=plan.decide_min)


def short_order(
    plan: PlanDraft, at: datetime, ends: datetime, schedule: Schedule, *, walk_s: float | None
) -> RunningOrder:
    """At a fallback: walk there, set up, safety word of the new place, the rounds that are left, pack, release.

    at: when people leave. What was typed over for the first spot does not count here.
    """
    ahead = [_length(WALK, walk_s), _usual(SET_UP, plan.setup_min), _usual(SAFETY, plan.safety_min)]
    after = [_usual(PACK, plan.pack_min), _usual(RELEASE, plan.release_min)]
    blocks = _laid([*ahead, *_rounds(schedule), *after], {}, at)
    return RunningOrder(tuple(blocks), at, ends, schedule)


def seconds_at_fallback(plan: PlanDraft, at: datetime, ends: datetime, walk_s: float | None) -> float:
    """What is left for rounds there; models.workshop.fitting.most_frames takes it."""
    other_min = plan.setup_min + plan.safety_min + plan.pack_min
    return (ends - at).total_seconds() - 60 * other_min - (walk_s or 0.0)


@dataclass(frozen=True, slots=True)
class _Length:
    key: str
    s: float | None
    low_s: float
    high_s: float
    round: int | None = None


def _usual(key: str, minutes: float) -> _Length:
    return _Length(key, minutes * 60, minutes * 60, minutes * 60)


def _length(key: str, length_s: float | None) -> _Length:
    return _Length(key, length_s, length_s or 0.0, length_s or 0.0)


def _rounds(schedule: Schedule) -> list[_Length]:
    """Each round with the move after it; none where there is no round."""
    found = []
    for each, after in zip_longest(schedule.rounds, schedule.rounds[1:]):
        move_s = after.starts_s - each.ends_s if after else 0.0
        lengths = (each.length_s + move_s, each.low_s + move_s, each.high_s + move_s)
        found.append(_Length(f"round {each.number}", *lengths, round=each.number))
    return found


def _laid(lengths: Iterable[_Length], edits: dict[str, BlockEdit], at: datetime) -> Sequence[Block]:
    blocks = []
    for length in lengths:
        edit = edits.get(length.key, BlockEdit(length.key))
        typed = edit.minutes is not None
        if edit.minutes is not None and not 0 <= edit.minutes <= LONGEST_MIN:
            raise InputProblem(length.key, f"{edit.minutes:g} minutes: give 0 to {LONGEST_MIN:g}")
        length_s = edit.minutes * 60 if edit.minutes is not None else length.s or 0.0
        block = Block(
            key=length.key,
            starts=at,
            ends=at + timedelta(seconds=length_s),
            worked_out_s=length.s or 0.0,
            low_s=length.low_s,
            high_s=length.high_s,
            typed=typed,
            known=typed or length.s is not None,
            heads=length.key in HEADS_AT,
            round=length.round,
            note=edit.note,
        )
        blocks.append(block)
        at = block.ends
    return blocks


def _moved(block: Block, by: timedelta) -> Block:
    return replace(block, starts=block.starts + by, ends=block.ends + by)
