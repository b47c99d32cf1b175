"""Sentences of the running order: figures as worked out, nothing worded as permission, what is not known said."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import get_args

import pytest

from models.light.battery import BatterySet
from models.light.kit import Flash
from models.light.setup import Light
from models.words import running, running_warnings
from models.words.never import forbidden_in
from models.words.running import (
    BLOCK_WORDS,
    HEADS_WORDS,
    block_words,
    cautions,
    charge_words,
    fitting_words,
    frame_words,
    lasts_words,
    order_answer,
    over_words,
    rest_words,
    span_words,
    unit_words,
)
from models.words.running_warnings import warning_words, warnings_said
from models.workshop.batteries import batteries
from models.workshop.fitting import Case, fitting
from models.workshop.running_order import HEADS_AT, running_order
from models.workshop.schedule import scheduled
from models.workshop.timing import Pace, Span
from models.workshop.warnings import Kind, Warned
from tests.models.words.strings import strings_of
from tests.models.workshop.rotas import PLAN, pace, rota_of, walkers

STARTS = datetime(2026, 6, 6, 17, 0, tzinfo=UTC)
NAMES = {1: "A", 2: "B"}
COUNTED = ((0.0, walkers(3, 2, 5)),)
CELLS = BatterySet("aa", "rechargeables", "AA")
LIGHT = Light(role="key", flash=Flash("f", "small flash", ((24, 20.0),)), power=1 / 2, battery=CELLS)


@pytest.mark.parametrize(
    ("length_s", "words"),
    [
        (0, "0 s"), (59.4, "59 s"), (60, "1 minute"), (130, "2 min 10 s"), (599.6, "10 minutes"), (724, "12 minutes"),
        (3570, "1 h"), (3900, "1 h 5 min"),
    ],
)  # fmt: skip
def test_how_long_something_lasts(length_s, words) -> None:
    assert lasts_words(length_s) == words


def test_a_span_with_its_doubt() -> None:
    assert span_words(Span(724, 724, 724)) == "12 minutes"
    assert span_words(Span(724, 540, 840)) == "12 minutes (9 minutes to 14 minutes)"
    assert span_words(Span(724, 540, 840, True)) == "12 minutes, at least 9 minutes, no upper end to be expected"


def test_what_a_frame_takes() -> None:
    counted = Pace(post=1, pose_s=6, recycle_s=1.45, waits=COUNTED)
    assert frame_words(counted) == (
        "6 s to pose, the flash is ready after 1.4 s, then 3.0 s (2.0 to 5.0) on average for a clear line."
    )
    slow = replace(counted, recycle_s=8.0, waits=((0.0, replace(COUNTED[0][1], open=True)),))
    assert frame_words(slow) == (
        "8.0 s until the flash is ready, longer than the pose of 6 s, then 3.0 s (2.0 to no end) on average for a "
        "clear line."
    )
    bare = Pace(post=1, pose_s=6)
    assert "how soon the flash is ready is not known" in frame_words(bare)
    assert "not counted at that hour: no wait for a clear line is added" in frame_words(bare)
    hopeless = replace(counted, waits=((0.0, replace(walkers(37), hopeless=True)),))
    assert "No gap is to be expected at that hour: 37 s of waiting is the least." in frame_words(hopeless)


def test_the_answer_of_the_page() -> None:
    paces = {1: pace(1, 6, waits=COUNTED), 2: pace(2, 6, waits=COUNTED)}
    schedule = scheduled(rota_of([2, 1], [1, 2]), paces, PLAN)
    order = running_order(PLAN, STARTS, STARTS + timedelta(minutes=50), schedule, walk_s=720)
    assert order_answer(order, "Saturday 6 June 2026, Foundry Lane", lambda at: f"{at:%H:%M}").text == (
        "Saturday 6 June 2026, Foundry Lane: meet at 16:28, set up at 17:00, 2 rounds from 17:20 to 17:30, packed up "
        "at 17:45: fits with 4 min 50 s to spare. The rounds take 10 minutes (9 min 30 s to 12 minutes) at 10 frames a "
        "turn."
    )
    assert [over_words(over_s) for over_s in (724, 0, -29, -240)] == [
        "12 minutes too long", *["fits with nothing to spare"] * 2, "fits with 4 minutes to spare",
    ]  # fmt: skip


def test_blocks_have_names_and_heads_words() -> None:
    paces = {1: pace(1)}
    order = running_order(PLAN, STARTS, STARTS, scheduled(rota_of([2], [1]), paces, PLAN), walks_back=True)
    assert [block_words(block) for block in order.blocks] == [
        *list(BLOCK_WORDS.values())[:5], "Round 1", *list(BLOCK_WORDS.values())[5:],
    ]  # fmt: skip
    assert set(HEADS_WORDS) == set(HEADS_AT)


def test_ways_to_fit_are_costed_in_words() -> None:
    def make(people, posts):
        return rota_of([3] * (len(people) // 3) + [1] * (len(people) % 3), [post.key for post in posts])

    case = Case(make(range(12), [*rota_of([3], [1, 2]).posts]), {1: pace(1), 2: pace(2)}, PLAN)
    told = fitting_words(fitting(case, 1400, make), NAMES)
    assert told[0] == "The rounds have 23 minutes and take 30 minutes: 7 min 4 s too long."
    assert told[1] == "6 frames a turn instead of 8: 7 min 6 s less, fits with nothing to spare."
    assert "One station more, taken to be as slow as A: saves nothing, still 7 min 4 s too long." in told
    assert "One station fewer, without A: saves nothing, still 7 min 4 s too long." in told
    assert fitting_words(fitting(case, 4000, make), NAMES) == [
        "The rounds have 1 h 7 min: it fits with 36 minutes to spare."
    ]
    assert "Even one frame a turn is" in fitting_words(fitting(case, 60, make), NAMES)[1]


def test_cells_in_words() -> None:
    no_cells = replace(LIGHT, role="edge", battery=None)
    paces = {1: pace(1, lights=(LIGHT, no_cells)), 2: pace(2)}
    found = batteries(scheduled(rota_of([3, 3], [1, 2]), paces, PLAN, frames=10), paces, PLAN)
    assert [unit_words(unit, NAMES) for unit in found.units] == [
        "A, key (small flash): 89 flashes at 1/2 power; one set of rechargeables gives about 300: 1 set and a spare.",
        "A, edge (small flash): 89 flashes at 1/2 power. No battery is given for it, so its sets are not counted: take "
        "more than you think.",
    ]
    assert charge_words(found, NAMES) == [
        "2 sets of rechargeables",
        "A, edge: no battery is given, so nothing is counted for it",
        "B: no setup is chosen, so its flashes are not known",
    ]


def test_rests_and_cautions() -> None:
    paces = {1: pace(1, 40, waits=((0.0, replace(walkers(1), hopeless=True)),)), 2: pace(2, 150)}
    schedule = scheduled(rota_of([2, 2], [1, 2]), paces, PLAN, frames=10)
    waited, *_ = [rest for rest in schedule.rests if rest.waited_s]
    assert rest_words(waited, {}) == (
        "The model at station 2 rests 5 minutes before round 1, turn 2; the group waits 5 minutes of it."
    )
    idle, *_ = [rest for rest in schedule.rests if not rest.waited_s]
    assert rest_words(idle, NAMES) == "The model at A rests 43 minutes before round 2, turn 1; nobody waits."
    told = cautions(schedule, NAMES)
    assert [line.split(":")[0] for line in told] == [
        "Footfall not counted in the hours planned at B",
        "No gap is to be expected at A",
        "One turn at B keeps the model on for longer than 20 minutes",
    ]


@pytest.mark.parametrize("kind", get_args(Kind))
def test_every_warning_has_words_with_its_station(kind) -> None:
    warned = Warned("walk back", kind, STARTS, 1, 1.4, 2.0, "market hours")
    words = warning_words(warned, NAMES)
    assert words.endswith(".")
    about_all = {
        "window begins",
        "window ends",
        "walk back dark",
        "dark not known",
        "block too short",
        "way not known",
        "over time",
    }
    assert (" A" in words) == (kind not in about_all)


def test_a_warning_carries_its_figures() -> None:
    def told(kind: Kind, amount: float, limit: float = 0.0, what: str = "") -> str:
        return warning_words(Warned("round 1", kind, STARTS, 1, amount, limit, what), NAMES)

    assert told("reserve gone", 1.4).startswith("The setup at A no longer beats the light, 1.4 stops short")
    assert told("reserve lacks", 1.4).startswith("The setup at A does not beat the light, 1.4 stops short")
    assert "hours begin here, 15 minutes before all is packed up" in told("window begins", 15.0, what="Rule")
    assert "2 stops darker" in told("light moved", -2.0)
    assert "2 stops brighter" in told("light moved", 2.0)
    assert told("window ends", 15.0, what="Stands until half past") == (
        "Stands until half past: its hours end here, 15 minutes before all is packed up."
    )
    assert told("set runs out", 124, 150, "key") == (
        "Change the cells of the key at A before this turn, after 124 of about 150 flashes."
    )
    assert told("set runs out", 0, 150, "key") == "Change the cells of the key at A before the picture."
    assert "7 min 4 s later" in told("over time", 424)


def test_what_is_the_same_at_several_stations_is_said_once() -> None:
    light = [
        Warned("round 1", "light moved", STARTS, post, amount) for post, amount in ((1, -1.0), (2, -1.0), (3, 0.7))
    ]
    short = [Warned("round 1", "reserve gone", STARTS, post, 0.5) for post in (1, 2)]
    assert [words.split(",")[0].split(" than")[0] for _, words in warnings_said([*light, *short], NAMES)] == [
        "Light at A and B is up to 1 stop darker",
        "Light at station 3 is up to 0.7 stop brighter",
        "The setup at A no longer beats the light",
        "The setup at B no longer beats the light",
    ]
    later = Warned("round 1", "light moved", STARTS + timedelta(minutes=1), 2, -1.0)
    assert len(list(warnings_said([light[0], later], NAMES))) == 2


@pytest.mark.parametrize("module", [running, running_warnings])
def test_nothing_is_worded_as_permission(module) -> None:
    texts = strings_of(Path(module.__file__).read_text("utf-8"))
    assert len(texts) > 20
    assert [found for text in texts for found in forbidden_in(text)] == []
