"""Who is where when, and the day, in words."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import get_args

import pytest

from models.words import day, rota
from models.words.day import KIND_WORDS, PERSON_KINDS, STATION_KINDS, day_answer, happened_words
from models.words.never import forbidden_in
from models.words.rota import hands_words, lends_words, place_words, rota_answer, short_words, still_lacking_words
from models.workshop.day import played
from models.workshop.happening import OF_PERSON, Kind
from models.workshop.rota import Duty, Post, Rota
from models.workshop.rotation import plan_rota
from models.workshop.running_order import running_order
from models.workshop.schedule import scheduled
from tests.models.words.strings import strings_of
from tests.models.workshop.rotas import PLAN, pace

STARTS = datetime(2026, 10, 17, 15, tzinfo=UTC)
POSTS = (Post(key=1), Post(key=2), Post(key=3))


@pytest.mark.parametrize(
    ("number", "words"),
    [(1, "first"), (3, "third"), (10, "tenth"), (11, "11th"), (12, "12th"), (13, "13th"), (20, "20th"), (21, "21st"),
     (22, "22nd"), (23, "23rd"), (33, "33rd"), (40, "40th")],
)  # fmt: skip
def test_places_are_counted_as_people_say_them(number: int, words: str) -> None:
    assert place_words(number) == words


def test_the_answer_counts_groups_stations_and_rounds() -> None:
    assert rota_answer(plan_rota(range(1, 10), POSTS), 8, left=False).text == (
        "9 people in 3 groups of 3 go round 3 stations in 3 rounds; everybody shoots once at each, 8 frames a turn."
    )
    assert rota_answer(plan_rota(range(1, 8), POSTS[:2]), 10, left=True).text.startswith("7 people in ")
    assert "what is left to them" in rota_answer(plan_rota([1], POSTS[:1]), 1, left=True).text
    assert rota_answer(Rota((), ()), 0, left=True).text == "Nothing is left to shoot."


def test_hands_and_who_lends_them() -> None:
    assert hands_words(Post(key=1, holders=2, watchers=0)) == "2 hands at the light, 0 pairs of eyes on the pavement"
    assert lends_words("the organiser", [("A", 1), ("B", 2)]) == (
        "The organiser lends a hand at A in round 1 and at B in round 2."
    )
    assert still_lacking_words([("C", 1, 2)]) == "Nobody is down to lend 2 hands at C in round 1."


def test_groups_made_larger_for_want_of_hands_are_told_as_such() -> None:
    two_lights = tuple(Post(key=key, holders=2) for key in (1, 2, 3))
    merged = plan_rota(range(1, 10), two_lights)
    assert short_words(merged, 3, merged=True).startswith(
        "Groups of 3 have too few hands for these stations, so people go in 2 groups of 4 and 5."
    )
    assert short_words(plan_rota(range(1, 10), POSTS), 3, merged=False) == ""
    assert short_words(plan_rota([1, 2], POSTS), 3, merged=False) == "At a turn up to 1 hand lacks."


def test_every_kind_and_duty_has_words() -> None:
    assert set(KIND_WORDS) == set(get_args(Kind))
    assert set(rota.DUTY_WORDS) == set(get_args(Duty))
    assert {kind for kind, _ in PERSON_KINDS} <= set(OF_PERSON)
    assert not {kind for kind, _ in STATION_KINDS} & {kind for kind, _ in PERSON_KINDS}
    assert happened_words("not come", "K.M.", 2, 1) == "K.M. did not come, before round 2, turn 1"


def test_the_days_answer_before_anything_and_after_all() -> None:
    first = plan_rota(range(1, 4), POSTS[:1])
    (moment,) = played(first, ())
    none = "No turn is shot yet: nothing is left to shoot. Group picture, pack, count heads."
    assert day_answer(moment, None, "", (1, 1, 0)).text == none
    order = running_order(PLAN, STARTS, STARTS + timedelta(hours=2), scheduled(first, {1: pace(1)}, PLAN), walk_s=0)
    assert day_answer(moment, order, "18:00 CEST", (1, 1, 0)).text.startswith(
        "No turn is shot yet, 3 are left: round 1, turn 1 comes next. Packed up at 18:00 CEST: fits with "
    )
    assert day_answer(moment, order, "18:00 CEST", (1, 3, 2)).text.startswith(
        "By the clock 2 turns are shot, 1 is left: round 1, turn 3 comes next."
    )
    assert day_answer(moment, order, "", (2, 1, 3)).text.startswith("By the clock 3 turns are shot: nothing is left")


@pytest.mark.parametrize("module", [rota, day])
def test_nothing_is_worded_as_permission(module) -> None:
    texts = strings_of(Path(module.__file__).read_text("utf-8"))
    assert len(texts) > 20
    assert [found for text in texts for found in forbidden_in(text)] == []
