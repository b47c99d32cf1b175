"""A day as it went: the first rota, and at each happening how far it had got and what is done from there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from models.problems import InputProblem
from models.workshop.happening import HappeningDraft
from models.workshop.left import Pair, whats_left
from models.workshop.replan import replan
from models.workshop.rota import GROUP_SIZE, Post, Rota, Round, Turn, Visit
from models.workshop.ways import Way, ways_from_now


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """How things stand. rota: what is left. round, turn: from 1, the numbers of its first round and of the first turn
    in it; turn is above 1 where that round is under way. Rounds are counted through the day: what is shot of a round
    keeps its number, and so does what is left of it.

    done: what was shot, in order, with the number of its round; a round in two parts where something happened in it.
    followed, at: the rota followed until now, and the round and turn of that rota where it was left.
    """

    rota: Rota
    people: tuple[int, ...]
    posts: tuple[Post, ...]
    shot: frozenset[Pair] = frozenset()
    round: int = 1
    turn: int = 1
    done: tuple[tuple[int, Round], ...] = ()
    followed: Rota
    at: tuple[int, int] = (1, 1)
    is_broken_off: bool = False


def played(
    first: Rota,
    happenings: Sequence[HappeningDraft],
    posts_of_model: Mapping[int, Sequence[int]] | None = None,
    group_size: int = GROUP_SIZE,
    lent: int = 0,
) -> tuple[Moment, ...]:
    """The start, and the moment after each happening, in the order they are given in. lent: hands from outside.

    posts_of_model: the posts that are lost with each model. Happenings at the same round and turn are planned for
    together. One that says less was shot than one before it takes that back in nothing: what is shot is shot. "spot
    lost" breaks off what is under way; all posts go on elsewhere. Raises InputProblem, field about, for a post back
    that the first rota does not know.
    """
    moment = Moment(rota=first, people=first.people, posts=first.posts, followed=first)
    moments = [moment]
    for happening in happenings:
        reached = _reached(moment, _progress(happening))
        moment = _after(reached, happening, first, posts_of_model or {}, group_size, lent)
        moments.append(moment)
    return tuple(moments)


def ways_at(moment: Moment, group_size: int = GROUP_SIZE) -> tuple[Way, ...]:
    """Ways out where hands are short from this moment on, the moment's own rota first; none where they are not."""
    at = (moment.at[0], 1) if moment.is_broken_off else moment.at
    return ways_from_now(moment.followed, moment.posts, moment.people, moment.shot, at, group_size)


def _progress(happening: HappeningDraft) -> tuple[int, int]:
    if happening.kind == "round done" and happening.about is not None:
        return happening.about + 1, 1
    return happening.round, happening.turn


def _reached(moment: Moment, progress: tuple[int, int]) -> Moment:
    """The moment when the rota has been followed until there."""
    if progress <= (moment.round, moment.turn) or not moment.rota.rounds:
        return moment
    number, turn = progress
    index = number - moment.round
    if index >= len(moment.rota.rounds):
        index, turn = len(moment.rota.rounds), 1
    skipped = turn - (moment.turn if index == 0 else 1)
    if index < len(moment.rota.rounds) and skipped >= moment.rota.rounds[index].longest:
        index, skipped = index + 1, 0
    rounds = moment.rota.rounds
    done = [*rounds[:index], *([_cut(rounds[index], slice(0, skipped))] if skipped else [])]
    left = [*([_cut(rounds[index], slice(skipped, None))] if skipped else rounds[index : index + 1])]
    return replace(
        moment,
        rota=replace(moment.rota, rounds=(*left, *rounds[index + 1 :])),
        shot=moment.shot | set(Rota(moment.posts, tuple(done)).shots()),
        round=moment.round + index,
        turn=skipped + (moment.turn if index == 0 else 1),
        done=(*moment.done, *enumerate(done, start=moment.round)),
        followed=moment.rota,
        at=(index + 1, skipped + 1),
        is_broken_off=False,
    )


def _after(
    moment: Moment,
    happening: HappeningDraft,
    first: Rota,
    posts_of_model: Mapping[int, Sequence[int]],
    group_size: int,
    lent: int,
) -> Moment:
    people, posts = _there(moment, happening, first, posts_of_model)
    broken_off = moment.is_broken_off or happening.kind == "spot lost"
    if (people, posts, broken_off) == (moment.people, moment.posts, moment.is_broken_off):
        return moment
    at = (moment.at[0], 1) if broken_off else moment.at
    goes_on = bool(whats_left(moment.followed, posts, people, moment.shot, at, group_size, lent).running)
    rota = replan(moment.followed, posts, people, moment.shot, at, group_size, lent=lent)
    moment = replace(moment, rota=rota, people=people, posts=posts, is_broken_off=broken_off)
    return moment if goes_on or moment.turn == 1 else replace(moment, round=moment.round + 1, turn=1)


def _there(
    moment: Moment, happening: HappeningDraft, first: Rota, posts_of_model: Mapping[int, Sequence[int]]
) -> tuple[tuple[int, ...], tuple[Post, ...]]:
    """Who and what is there after it."""
    people, posts, about = moment.people, moment.posts, happening.about
    match happening.kind:
        case "not come" | "left":
            people = tuple(person for person in people if person != about)
        case "came late" if about is not None and about not in people:
            people = (*people, about)
        case "model left" | "station lost":
            lost = (about,) if happening.kind == "station lost" else posts_of_model.get(about or 0, ())
            posts = tuple(post for post in posts if post.key not in lost)
        case "station back" if about not in {post.key for post in posts}:
            back = {post.key for post in posts} | {about}
            if about not in {post.key for post in first.posts}:
                raise InputProblem("about", "no such station in the rota")
            posts = tuple(post for post in first.posts if post.key in back)
    return people, posts


def _cut(each: Round, turns: slice) -> Round:
    """Only these turns of a round; who has none of them rests."""
    cut = []
    for visit in each.visits:
        kept: tuple[Turn, ...] = visit.turns[turns]
        cut.append(Visit(visit.members, visit.post if kept else None, kept))
    return Round(tuple(cut))
