"""Who stands where when: people in groups, stations they visit, and the duties of every turn. Only the shapes of it.

A round is a time in which every group is at one station or rests. At a station the group's people take turns at
shooting, one at a time; the others hold lights, watch the pavement, or are next up.

people and posts go by whole numbers, those of the kept persons and stations.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

Duty = Literal["shoots", "light", "watch", "next", "free"]
GROUP_SIZE = 3
"""A group is full with so many: common practice, no source."""
FRAMES, FRAMES_FULL = 10, 8
"""Frames a turn, and where every group is full: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Post:
    """A station as far as the rota goes: hands it needs beside whoever shoots."""

    key: int
    holders: int = 1
    watchers: int = 1

    @property
    def hands(self) -> int:
        return self.holders + self.watchers


@dataclass(frozen=True, slots=True)
class Turn:
    """One person shooting once at a post. short: hands that the group lacks (lent by a helper, or not there)."""

    shooter: int
    light: tuple[int, ...] = ()
    watch: tuple[int, ...] = ()
    next_up: int | None = None
    free: tuple[int, ...] = ()
    short: int = 0

    def duty_of(self, person: int) -> Duty | None:
        if person == self.shooter:
            return "shoots"
        if person in self.light:
            return "light"
        if person in self.watch:
            return "watch"
        if person == self.next_up:
            return "next"
        return "free" if person in self.free else None


@dataclass(frozen=True, slots=True)
class Visit:
    """A group for one round: at a post, or resting where post is None (then without turns)."""

    members: tuple[int, ...]
    post: int | None
    turns: tuple[Turn, ...] = ()


@dataclass(frozen=True, slots=True)
class Round:
    """Visits at the same time: no person and no post in two of them."""

    visits: tuple[Visit, ...]

    def at(self, post: int) -> Visit | None:
        return next((visit for visit in self.visits if visit.post == post), None)

    @property
    def longest(self) -> int:
        """Turns of the visit with most of them."""
        return max((len(visit.turns) for visit in self.visits), default=0)


@dataclass(frozen=True, slots=True)
class Rota:
    """posts: those it was made for. rounds: in order."""

    posts: tuple[Post, ...]
    rounds: tuple[Round, ...]

    @property
    def people(self) -> tuple[int, ...]:
        return tuple(sorted({person for each in self.rounds for visit in each.visits for person in visit.members}))

    def shots(self) -> Iterator[tuple[int, int]]:
        """(person, post) of every turn, in order of rounds."""
        for each in self.rounds:
            for visit in each.visits:
                if visit.post is not None:
                    yield from ((turn.shooter, visit.post) for turn in visit.turns)

    @property
    def short(self) -> int:
        """The most hands that any turn lacks."""
        turns = (turn for each in self.rounds for visit in each.visits for turn in visit.turns)
        return max((turn.short for turn in turns), default=0)
