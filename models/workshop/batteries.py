"""How often every flash fires over the whole workshop, how many sets that takes, and when sets are changed.

A light fires at every frame, once for the wide picture of each turn, at tests while setting up, and for the group
picture. A set is changed before a turn that would take it past nine tenths of its flashes; towards the end of a set the
flash is ready later (models/light/battery.py).

By hand: 9 turns of 10 frames and a wide picture are 99 flashes, 20 tests and 3 group pictures make 122, at half power.
A set of 150 full flashes gives 300, so one set and one spare. At full power it gives 150, of which 135 are used, and
122 still fit; with 12 frames it is 140, and the set is changed before the turn that would pass 135: after 20 tests and
8 turns of 13 it stands at 124, so before the ninth.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import ceil

from models.light.battery import BatterySet, flashes_per_set, recycle_s
from models.light.setup import Light, Role
from models.workshop.plan import PlanDraft
from models.workshop.schedule import Schedule
from models.workshop.timing import Pace

GROUP_PICTURES = 3
"""Frames of the group picture with all lights: common practice, no source."""
WIDE_PICTURES = 1
USED_SHARE = 0.9
"""Of a set's flashes, before it is changed: common practice, no source. Counts from fresh cells vary by more."""
TIRED_SHARE = 0.8
"""Of a set's flashes, after which the flash is ready later: common practice, no source."""
SPARE = 1


@dataclass(frozen=True, slots=True)
class SetChange:
    """Before a turn: at_s of the schedule, round and turn from 1. flashes: fired from the old set by then."""

    at_s: float
    round: int
    turn: int
    flashes: int


@dataclass(frozen=True, slots=True)
class SlowFrom:
    """From this turn on a set is tired: the flash is then ready after so many seconds."""

    at_s: float
    round: int
    turn: int
    recycle_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitUse:
    """One light of one post, each of its units alike. place: of the light in the setup. fired: by one unit.

    a_set: flashes from one set at this power; sets: used by one unit, without the spare. Both None where no battery is
    given. changes: within the rounds. slow: where a set gets tired. before_picture: one more change before the group
    picture. over_set: a single turn takes more than a set, which is then changed within the turn.
    """

    post: int
    place: int
    role: Role
    flash: str
    units: int
    power: float
    battery: BatterySet | None
    fired: int
    a_set: int | None = None
    sets: int | None = None
    changes: tuple[SetChange, ...] = ()
    slow: tuple[SlowFrom, ...] = ()
    before_picture: bool = False
    over_set: bool = False

    @property
    def sets_with_spare(self) -> int | None:
        """Of all its units, one spare for each."""
        return None if self.sets is None else (self.sets + SPARE) * self.units


@dataclass(frozen=True, slots=True)
class Batteries:
    """to_charge: sets by their id, for all units with a spare each. unknown: lights without a battery given, by post
    and place. without_setup: posts whose flashes are not known, for they have no setup."""

    units: tuple[UnitUse, ...]
    to_charge: tuple[tuple[BatterySet, int], ...]
    unknown: tuple[tuple[int, int], ...]
    without_setup: tuple[int, ...]


def batteries(schedule: Schedule, paces: Mapping[int, Pace], plan: PlanDraft) -> Batteries:
    """Of every light at every post of the schedule. Each station keeps its own flashes throughout."""
    posts = sorted({visit.post for _, visit, _ in schedule.turns() if visit.post is not None})
    units = [
        _use(schedule, post, place, light, plan) for post in posts for place, light in enumerate(paces[post].lights)
    ]
    charge: dict[str, tuple[BatterySet, int]] = {}
    for one in units:
        if one.battery is not None and one.sets_with_spare is not None:
            before = charge.get(one.battery.id, (one.battery, 0))[1]
            charge[one.battery.id] = (one.battery, before + one.sets_with_spare)
    return Batteries(
        tuple(units),
        tuple(charge[key] for key in sorted(charge)),
        tuple((one.post, one.place) for one in units if one.battery is None),
        tuple(post for post in posts if not paces[post].lights),
    )


def flashes_fired(turns: int, frames: int, tests: int) -> int:
    """By one unit over the whole workshop."""
    return turns * (frames + WIDE_PICTURES) + tests + GROUP_PICTURES


def _use(schedule: Schedule, post: int, place: int, light: Light, plan: PlanDraft) -> UnitUse:
    turns = list(_turns(schedule, post))
    use = UnitUse(
        post=post,
        place=place,
        role=light.role,
        flash=light.flash.name,
        units=light.units,
        power=light.power,
        battery=light.battery,
        fired=flashes_fired(len(turns), schedule.frames, plan.test_flashes),
    )
    if light.battery is None:
        return use
    a_set, each = flashes_per_set(light.battery, light.power), schedule.frames + WIDE_PICTURES
    tired_s = recycle_s(light.flash.recycle_full_s, light.power, light.battery, tired=True)
    cells = _Cells(max(int(a_set * USED_SHARE), 1), plan.test_flashes)
    changes: list[SetChange] = []
    slow: list[SlowFrom] = []
    for number, turn, at_s in turns:
        if cells.ends_within(each):
            changes.append(SetChange(at_s, number, turn, cells.used))
            cells.change()
        fresh = cells.used <= a_set * TIRED_SHARE
        cells.fire(each)
        if fresh and cells.used > a_set * TIRED_SHARE:
            slow.append(SlowFrom(at_s, number, turn, tired_s))
    before_picture = cells.ends_within(GROUP_PICTURES)
    if before_picture:
        cells.change()
    cells.fire(GROUP_PICTURES)
    return replace(
        use, a_set=a_set, sets=cells.sets, changes=tuple(changes), slow=tuple(slow), before_picture=before_picture,
        over_set=each > cells.usable,
    )  # fmt: skip


class _Cells:
    """Sets begun by one unit, and flashes fired from the one in use; one that runs out is changed there and then."""

    def __init__(self, usable: int, fired: int) -> None:
        self.usable, self.used, self.sets = usable, 0, 1
        self.fire(fired)

    def ends_within(self, flashes: int) -> bool:
        """Whether the set in use, begun already, has too few left."""
        return self.used > 0 and self.used + flashes > self.usable

    def change(self) -> None:
        self.sets, self.used = self.sets + 1, 0

    def fire(self, flashes: int) -> None:
        further = max(ceil((self.used + flashes) / self.usable) - 1, 0)
        self.sets, self.used = self.sets + further, self.used + flashes - further * self.usable


def _turns(schedule: Schedule, post: int) -> Iterator[tuple[int, int, float]]:
    """(round, turn in it, start) of every turn at a post, in order."""
    for each in schedule.rounds:
        visit = each.at(post)
        if visit is not None:
            yield from ((each.number, number, turn.starts_s) for number, turn in enumerate(visit.turns, start=1))
