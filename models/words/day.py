"""What happened on the day, in words, and what is asked when something does."""

from __future__ import annotations

from collections.abc import Sequence

from models.words.running import over_words
from models.words.said import Said, counted, listed, said
from models.workshop.day import Moment
from models.workshop.happening import Kind
from models.workshop.running_order import RunningOrder

PERSON_KINDS: tuple[tuple[Kind, str], ...] = (
    ("not come", "did not come"),
    ("left", "left"),
    ("came late", "came after all"),
)
STATION_KINDS: tuple[tuple[Kind, str], ...] = (
    ("station lost", "It cannot be used any more"),
    ("model left", "Its model has left"),
    ("station back", "It can be used again"),
)
KIND_WORDS: dict[Kind, str] = {
    "not come": "{who} did not come",
    "left": "{who} left",
    "came late": "{who} came after all",
    "model left": "{who} left: the station has no model any more",
    "station lost": "Station {who} was lost",
    "station back": "Station {who} is back",
    "spot lost": "The spot was lost",
    "round done": "Round {who} was done",
}
STOPPED = (
    "Stop at once, fold the stands, stay polite, and do not film whoever asks.",
    "One person talks: {talks}.",
    "Walk to {where}.",
    "Count heads there before anything else.",
)


def happened_words(kind: Kind, who: str, number: int, turn: int) -> str:
    """'K.M. did not come, before round 2, turn 1'."""
    return f"{KIND_WORDS[kind].format(who=who)}, before round {number}, turn {turn}"


def never_words(station: str, people: Sequence[str]) -> str:
    """'Nobody shoots at C any more, though K.M. and No. 2 have not.'"""
    have = "has" if len(people) == 1 else "have"
    return f"Nobody shoots at {station} any more, though {listed(list(people))} {have} not."


def day_answer(moment: Moment, order: RunningOrder | None, packed: str, by_clock: tuple[int, int, int]) -> Said:
    """Where the rota stands and how it ends. packed: the local time with its zone. by_clock: the round and turn that
    come next by the times worked out, and how many turns more than in `moment` are shot by then."""
    number, turn, more = by_clock
    left = sum(len(visit.turns) for each in moment.rota.rounds for visit in each.visits) - more
    count = len(moment.shot) + more
    shot = counted(count, "turn is shot", "turns are shot") if count else "no turn is shot yet"
    start = f"By the clock {shot}" if more else f"{shot[:1].upper()}{shot[1:]}"
    if order is None or not left:
        end = "" if order is None else f" Packed up at {packed}: {over_words(order.over_s)}."
        return said(f"{start}: ", "nothing is left to shoot", f". Group picture, pack, count heads.{end}")
    going = f"round {number}, turn {turn} comes next"
    return said(
        f"{start}, {counted(left, 'is', 'are')} left: ", going, f". Packed up at {packed}: {over_words(order.over_s)}."
    )
