"""Rotas for the tests of times: groups go round the posts one after the other. Who holds what does not matter here."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import strategies as st

from models.workshop.plan import PlanDraft
from models.workshop.rota import Post, Rota, Round, Turn, Visit
from models.workshop.timing import Pace, Wait

PLAN = PlanDraft(workshop_id=1)


def rota_of(sizes: Sequence[int], posts: Sequence[int]) -> Rota:
    """Groups of these sizes; each is once at each post, or rests."""
    people = iter(range(1, sum(sizes) + 1))
    groups = [tuple(next(people) for _ in range(size)) for size in sizes]
    many = max(len(groups), len(posts))
    rounds = []
    for number in range(many):
        visits = []
        for place, members in enumerate(groups):
            at = (place + number) % many
            turns = tuple(Turn(person) for person in members)
            visits.append(Visit(members, posts[at], turns) if at < len(posts) else Visit(members, None))
        rounds.append(Round(tuple(visits)))
    return Rota(tuple(Post(key=post) for post in posts), tuple(rounds))


def split(people: int, groups: int) -> list[int]:
    return [people // groups + (place < people % groups) for place in range(groups)]


def pace(post: int, frame_s: float = 9.0, **changes: object) -> Pace:
    return Pace(**{"post": post, "pose_s": frame_s} | changes)  # type: ignore[arg-type]


def walkers(middle_s: float, low_s: float | None = None, high_s: float | None = None) -> Wait:
    low, high = (middle_s if each is None else each for each in (low_s, high_s))
    return Wait(middle_s, low, high, counted=True)


@st.composite
def workshops(draw: st.DrawFn, most_people: int = 20, most_posts: int = 5) -> tuple[Rota, dict[int, Pace]]:
    """A rota and the paces of its posts."""
    posts = [10 * number for number in range(1, draw(st.integers(1, most_posts)) + 1)]
    people = draw(st.integers(1, most_people))
    groups = draw(st.integers(max(1, people // 5), people))
    paces = {
        post: pace(post, draw(st.integers(2, 60)), waits=((0.0, walkers(draw(st.integers(0, 30)))),)) for post in posts
    }
    return rota_of(split(people, groups), posts), paces
