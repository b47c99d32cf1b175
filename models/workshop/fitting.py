"""When the rounds take longer than there is time: fewer frames a turn, a station more or fewer, or fewer people.

Every way is costed by the whole workshop reckoned anew, at as many frames a turn as planned where it is not about them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from models.workshop.course import ModelState
from models.workshop.plan import PlanDraft
from models.workshop.rota import Post, Rota
from models.workshop.rotation import MOST_POSTS
from models.workshop.schedule import Schedule, scheduled
from models.workshop.timing import Pace

MOST_FRAMES = 60
"""Of what is looked for in one turn."""

Kind = Literal["frames", "station more", "station fewer", "people fewer"]
Make = Callable[[Sequence[int], Sequence[Post]], Rota]
"""Plans a rota, such as models.workshop.rotation.plan_rota."""


@dataclass(frozen=True, slots=True)
class Case:
    """A rota with all that its times take; see models.workshop.schedule.scheduled."""

    rota: Rota
    paces: Mapping[int, Pace]
    plan: PlanDraft
    models: Mapping[int, ModelState] | None = None
    starts_s: float = 0.0
    heat_or_cold: bool = False

    def scheduled(self, frames: int | None = None, *, with_doubt: bool = True) -> Schedule:
        return scheduled(
            self.rota, self.paces, self.plan, self.models, starts_s=self.starts_s, heat_or_cold=self.heat_or_cold,
            frames=frames, with_doubt=with_doubt,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Way:
    """amount: frames a turn it comes down to, or how many stations or people more or fewer. saves_s: against what is
    planned, below 0 where it takes longer. over_s: past the time there is, 0 or less where it fits. dropped: the post
    or the people left out, copied: the post whose pace one more station is taken to have."""

    kind: Kind
    amount: int
    rota: Rota
    schedule: Schedule
    saves_s: float
    over_s: float
    dropped: tuple[int, ...] = ()
    copied: int | None = None

    @property
    def fits(self) -> bool:
        return self.over_s <= 0


@dataclass(frozen=True, slots=True)
class Fitting:
    """planned: as it stands. over_s: 0 or less where it fits. ways: those that fit first; none where nothing is over.
    one_frame_over_s: what even one frame a turn is over, where that does not fit."""

    planned: Schedule
    within_s: float
    over_s: float
    ways: tuple[Way, ...]
    one_frame_over_s: float | None = None

    @property
    def fits(self) -> bool:
        return self.over_s <= 0


def fitting(case: Case, within_s: float, make: Make) -> Fitting:
    """Whether the rounds fit into so many seconds, and what else would."""
    planned = case.scheduled()
    over_s = planned.length_s - within_s
    if over_s <= 0:
        return Fitting(planned, within_s, over_s, ())
    found = most_frames(case, within_s, planned.frames)
    ways = [] if found is None else [_way("frames", found.frames, case.rota, found, planned, within_s)]
    ways += _other_stations(case, within_s, make, planned)
    ways += _fewer_people(case, within_s, make, planned)
    ways.sort(key=lambda way: (not way.fits, way.kind != "frames", way.over_s if not way.fits else 0))
    one_s = None if found is not None else case.scheduled(1, with_doubt=False).length_s - within_s
    return Fitting(planned, within_s, over_s, tuple(ways), one_s)


def most_frames(case: Case, within_s: float, most: int = MOST_FRAMES) -> Schedule | None:
    """The schedule with the most frames a turn that fits, at most so many; None where one frame does not fit."""
    if case.scheduled(1, with_doubt=False).length_s > within_s:
        return None
    fewest, over = 1, most + 1
    while over - fewest > 1:
        frames = (fewest + over) // 2
        if case.scheduled(frames, with_doubt=False).length_s <= within_s:
            fewest = frames
        else:
            over = frames
    return case.scheduled(fewest)


def _other_stations(case: Case, within_s: float, make: Make, planned: Schedule) -> list[Way]:
    """One station more where groups rest, taken to be as fast as the slowest; one fewer, the slowest left out."""
    people, posts, ways = case.rota.people, case.rota.posts, []
    slowest = max(posts, key=lambda post: case.paces[post.key].turn(case.plan, planned.frames, case.starts_s).middle_s)
    rests = any(visit.post is None for each in case.rota.rounds for visit in each.visits)
    if rests and len(posts) < MOST_POSTS:
        one = replace(slowest, key=max(post.key for post in posts) + 1)
        paces = {**case.paces, one.key: replace(case.paces[slowest.key], post=one.key)}
        rota = make(people, (*posts, one))
        schedule = replace(case, rota=rota, paces=paces).scheduled(planned.frames)
        ways.append(_way("station more", 1, rota, schedule, planned, within_s, copied=slowest.key))
    if len(posts) > 1:
        rota = make(people, tuple(post for post in posts if post != slowest))
        schedule = replace(case, rota=rota).scheduled(planned.frames)
        ways.append(_way("station fewer", 1, rota, schedule, planned, within_s, dropped=(slowest.key,)))
    return ways


def _fewer_people(case: Case, within_s: float, make: Make, planned: Schedule) -> list[Way]:
    """The fewest to leave out for it to fit, sought as if fewer never took longer; one fewer where nothing fits."""
    people, posts = case.rota.people, case.rota.posts

    def without(number: int, *, with_doubt: bool) -> Way:
        rota = make(people[: len(people) - number], posts)
        schedule = replace(case, rota=rota).scheduled(planned.frames, with_doubt=with_doubt)
        dropped = people[len(people) - number :]
        return _way("people fewer", number, rota, schedule, planned, within_s, dropped=dropped)

    if len(people) < 2:
        return []
    over, fits = 0, len(people)
    while fits - over > 1:
        number = (fits + over) // 2
        if without(number, with_doubt=False).fits:
            fits = number
        else:
            over = number
    return [without(fits if fits < len(people) else 1, with_doubt=True)]


def _way(
    kind: Kind, amount: int, rota: Rota, schedule: Schedule, planned: Schedule, within_s: float,
    dropped: tuple[int, ...] = (), copied: int | None = None,
) -> Way:  # fmt: skip
    saves_s = planned.length_s - schedule.length_s
    return Way(kind, amount, rota, schedule, saves_s, schedule.length_s - within_s, dropped, copied)
