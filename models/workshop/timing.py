"""How long a frame and a turn take at one station, with the doubt of the hour's footfall.

A frame takes the longer of the flash getting ready and the pose, and then the mean wait for a clear line: a shooter
waits only when ready, and a Poisson stream of walkers has no memory. Where nobody counted, no wait is added, and that
is said.

By hand: ready after 2.9 s x 1/2 = 1.45 s, a pose of 6 s, 240 people an hour = 160 parties an hour = 2/45 a second, 3 s
clear: q T = 2/15, wait (e^(2/15) - 1 - 2/15) / (2/45) = 0.2092 s; 10 frames of 6.2092 s are 62.09 s, with 20 s for the
wide picture and 20 s for handing over a turn takes 102.09 s.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, get_args

from models.light.battery import recycle_s
from models.light.setup import Light, Setup
from models.street.footfall import Rate
from models.street.gaps import GAP_S, HOPELESS_PARTIES, Gap, clear_gap
from models.workshop.plan import PlanDraft
from models.workshop.rota import Rota
from models.workshop.rotation import usual_frames

End = Literal["low", "middle", "high"]
ENDS: tuple[End, ...] = get_args(End)
"""Of the footfall's 80 % interval; the middle is its mean."""


@dataclass(frozen=True, slots=True)
class Span:
    """Seconds, and what they are at the ends of the footfall's interval. open: no upper end is to be expected."""

    middle_s: float
    low_s: float
    high_s: float
    open: bool = False


@dataclass(frozen=True, slots=True)
class Wait:
    """Seconds a frame waits for a clear line, on average. counted: somebody counted in that hour; else it is 0.

    hopeless: no gap is to be expected, and the figure is only the least it would be. open: so at the upper end.
    """

    middle_s: float = 0.0
    low_s: float = 0.0
    high_s: float = 0.0
    counted: bool = False
    hopeless: bool = False
    open: bool = False

    def at(self, end: End) -> float:
        return self.middle_s if end == "middle" else self.low_s if end == "low" else self.high_s


NO_COUNT = Wait()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """How fast one station goes. recycle_s: the slowest light's with fresh cells, tired_s towards the end of a set;
    None without a setup. waits: each from its second on, counted as the schedule's seconds are; a round goes by the
    one at its start. lights: those that fire.
    """

    post: int
    pose_s: float
    recycle_s: float | None = None
    tired_s: float | None = None
    waits: tuple[tuple[float, Wait], ...] = ((0.0, NO_COUNT),)
    lights: tuple[Light, ...] = ()

    @property
    def ready_s(self) -> float:
        """Until both flash and model are ready."""
        return max(self.pose_s, self.recycle_s or 0.0)

    def wait_at(self, at_s: float) -> Wait:
        """Of the hour at that second; before the first, the first."""
        found = self.waits[0][1] if self.waits else NO_COUNT
        for from_s, wait in self.waits:
            if from_s <= at_s:
                found = wait
        return found

    def frame_s(self, at_s: float = 0.0, end: End = "middle") -> float:
        """Seconds a frame, without any rest of a hot flash."""
        return self.ready_s + self.wait_at(at_s).at(end)

    def frame(self, at_s: float = 0.0) -> Span:
        low_s, middle_s, high_s = (self.frame_s(at_s, end) for end in ENDS)
        return Span(middle_s, low_s, high_s, self.wait_at(at_s).open)

    def turn(self, plan: PlanDraft, frames: int, at_s: float = 0.0) -> Span:
        """A turn with its wide picture and handing over, without any rest of a hot flash."""
        one, other_s = self.frame(at_s), plan.wide_s + plan.handover_s
        low_s, middle_s, high_s = (frames * each + other_s for each in (one.low_s, one.middle_s, one.high_s))
        return Span(middle_s, low_s, high_s, one.open)


def wait_of(rate: Rate | None, gap_s: float = GAP_S, share_crossing: float = 1.0) -> Wait:
    """The wait at an hour's footfall. Where no gap is to be expected it is held at the last that was."""
    if rate is None:
        return NO_COUNT
    middle, low, high = (clear_gap(one.parties_per_s, gap_s, share_crossing) for one in (rate, *rate.ends))
    return Wait(
        _held(middle), _held(low), _held(high), counted=True, hopeless=not middle.expected, open=not high.expected
    )


def pace_of(
    post: int,
    setup: Setup | None,
    plan: PlanDraft,
    waits: Iterable[tuple[float, Wait]] = (),
    pose_s: float | None = None,
) -> Pace:
    """The pace of a station with its setup as planned. pose_s: the station's own, None as the workshop has it."""
    lights = tuple(light for light in setup.lights if light.power) if setup else ()
    fresh, tired = (
        max((recycle_s(one.flash.recycle_full_s, one.power, one.battery, tired) for one in lights), default=None)
        for tired in (False, True)
    )
    return Pace(
        post=post,
        pose_s=plan.pose_s if pose_s is None else pose_s,
        recycle_s=fresh,
        tired_s=tired,
        waits=tuple(sorted(waits, key=lambda each: each[0])) or ((0.0, NO_COUNT),),
        lights=lights,
    )


def frames_a_turn(plan: PlanDraft, rota: Rota) -> int:
    """As planned; else 8 where every group is full, and 10 where one is not."""
    return usual_frames(rota, plan.group_size) if plan.frames is None else plan.frames


def _held(gap: Gap) -> float:
    if gap.expected:
        return gap.mean_wait_s
    return clear_gap(HOPELESS_PARTIES / gap.gap_s, gap.gap_s).mean_wait_s
