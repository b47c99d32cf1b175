"""Who is where when, in words: duties, turns, what to do while resting, and hands that lack."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from models.words.said import Said, counted, listed, said
from models.workshop.rota import Duty, Post, Rota
from models.workshop.ways import Way

DUTY_WORDS: dict[Duty, str] = {
    "shoots": "shoots",
    "light": "holds the light",
    "watch": "watches the pavement",
    "next": "is next up",
    "free": "looks on",
}
REST_WORDS = "rest. Take a picture of the others at work, or look for natural light away from the set."
LENDS_WORDS = "lend a hand."
FREE_HELPER = "At no station by this rota: mind bags, walkers and the time."
MODEL_NOT_ON = "At no station any more."
MODEL_FINISHED = "Finished."
PICTURE_WORDS = "Group picture with all lights."
PACK_WORDS = "Pack."
RELEASE_WORDS = "Released: be counted before you leave."
IN_PLACES = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


def place_words(number: int) -> str:
    """'first', 'tenth', '11th', '21st'; number from 1."""
    if number <= len(IN_PLACES):
        return IN_PLACES[number - 1]
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{ending if number > 20 else 'th'}"


def rota_answer(rota: Rota, frames: int, *, left: bool) -> Said:
    """left: it is what is left of a day on which something happened."""
    people, rounds = counted(len(rota.people), "person", "people"), counted(len(rota.rounds), "round", "rounds")
    if not rota.rounds:
        return said("", "Nothing is left to shoot", ".")
    sizes = sorted({len(visit.members) for each in rota.rounds for visit in each.visits})
    groups = len(rota.rounds[0].visits)
    size = f"{sizes[0]}" if len(sizes) == 1 else f"{sizes[0]} to {sizes[-1]}"
    stations = counted(
        len({visit.post for each in rota.rounds for visit in each.visits} - {None}), "station", "stations"
    )
    start = (
        f"{people} in {counted(groups, 'group', 'groups')} of {size} {'go on' if left else 'go'} round {stations} in "
    )
    each = "everybody shoots what is left to them" if left else "everybody shoots once at each"
    return said(start, rounds, f"; {each}, {counted(frames, 'frame', 'frames')} a turn.")


def hands_words(post: Post) -> str:
    """'1 hand at the light, 1 pair of eyes on the pavement'."""
    eyes = counted(post.watchers, "pair", "pairs")
    return f"{counted(post.holders, 'hand', 'hands')} at the light, {eyes} of eyes on the pavement"


def short_words(rota: Rota, group_size: int, *, merged: bool) -> str:
    """That hands lack, or that groups were made larger so that they do not; '' where neither is so."""
    if rota.short:
        return f"At a turn up to {counted(rota.short, 'hand lacks', 'hands lack')}."
    if not merged:
        return ""
    groups = rota.rounds[0].visits if rota.rounds else ()
    of = " and ".join(str(size) for size in sorted({len(visit.members) for visit in groups}))
    return (
        f"Groups of {group_size} have too few hands for these stations, so people go in "
        f"{counted(len(groups), 'group', 'groups')} of {of}. It goes otherwise too:"
    )


def lends_words(name: str, places: Sequence[tuple[str, int]]) -> str:
    """'Z.Q. lends a hand at B in round 1 and at C in round 2.' places: (station, round)."""
    there = listed([f"at {station} in round {number}" for station, number in places])
    return f"{name[:1].upper()}{name[1:]} lends a hand {there}."


def still_lacking_words(lacking: Sequence[tuple[str, int, int]]) -> str:
    """lacking: (station, round, hands) that nobody is down to be lent for."""
    there = listed([f"{counted(hands, 'hand', 'hands')} at {at} in round {number}" for at, number, hands in lacking])
    return f"Nobody is down to lend {there}."


def way_words(way: Way, names: Mapping[int, str]) -> str:
    """'Lend 1 hand (A in round 1): 9 turns from start to end.'"""
    turns = f"{counted(way.turns, 'turn', 'turns')} from start to end"
    if way.kind == "merge" and not way.lent:
        groups = counted(max((len(each.visits) for each in way.rota.rounds), default=0), "group", "groups")
        return f"Merge into {groups}, nobody lent: {turns}."
    if way.kind == "share" and not way.lent:
        return f"Groups help each other out, nobody lent: {turns}."
    where = ", ".join(
        f"{names.get(loan.post, loan.post)} in round {loan.round}{'' if loan.hands == 1 else f' ({loan.hands})'}"
        for loan in way.loans
    )
    start = {"merge": "Merge, and lend", "share": "Help each other out, and lend", "lend": "Lend"}[way.kind]
    return f"{start} {counted(way.lent, 'hand', 'hands')} at a time ({where}): {turns}."
