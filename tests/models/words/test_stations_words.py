"""What is said of stations and of a plan."""

from __future__ import annotations

import pytest

from models.light.card import OneSetting
from models.light.exposure import START, Dialled
from models.words.plan import missing_of, plan_answer, plan_facts
from models.words.stations import (
    changed_words,
    count_words,
    far_words,
    hands_words,
    key_left_words,
    one_setting_words,
    short_of_hands_words,
    stations_answer,
)
from models.workshop.plan import PlanDraft


@pytest.mark.parametrize(
    ("holders", "watchers", "words"),
    [
        (0, 0, "nobody holds a light, nobody watches the pavement"),
        (1, 1, "1 holds a light, 1 watches the pavement"),
        (2, 2, "2 hold lights, 2 watch the pavement"),
    ],
)
def test_hands(holders, watchers, words):
    assert hands_words(holders, watchers) == words


def test_hands_that_a_group_lacks():
    assert short_of_hands_words(3, 3).startswith("It needs 3 hands beside whoever shoots, and a group of 3 has two: ")
    assert short_of_hands_words(1, 1).startswith("It needs 1 hand beside whoever shoots, and a group of 1 has no")


def test_counts_are_words_as_far_as_twelve():
    assert [count_words(n, "station", "stations") for n in (0, 1, 8, 13)] == [
        "no stations", "one station", "eight stations", "13 stations",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("works", "words"),
    [
        (["as set up"], "One station: then. The setup works as it starts."),
        (["as set up", "as set up"], "Two stations: then. All setups work as it starts."),
        (
            ["as set up", "not", None],
            "Three stations: then. One setup does not work as it starts. One has no setup yet.",
        ),
        (["not", "not"], "Two stations: then. Two setups do not work as it starts."),
        (["once moved"], "One station: then. One setup works only once lights are moved as it starts."),
        (
            ["as set up", "once moved", "once moved"],
            "Three stations: then. Two setups work only once lights are moved as it starts.",
        ),
        (
            ["not", "once moved"],
            "Two stations: then. One setup does not work and one works only once lights are moved as it starts.",
        ),
        ([None, None], "Two stations: then. No setup is chosen yet."),
    ],
)
def test_the_answer_of_all_stations(works, words):
    told = stations_answer("then", works, ("B", 1.234), "Not checked").text
    assert told == f"{words} Least width left for walkers: 1.23 m at B. Strictest rule: not checked."
    assert " Width left for walkers: not known. " in stations_answer("then", works, None, "Not checked").text


@pytest.mark.parametrize(
    ("left", "words"),
    [(0.667, "0.7 stops from what is dialled up to full power"), (0.0, "nothing, it is at full power"),
     (1.0, "1 stop from what is dialled up to full power"), (-0.4, "lacks 0.4 stops at full power"), (None, "off")],
)  # fmt: skip
def test_what_the_key_has_left(left, words):
    assert key_left_words(left) == words


def test_stations_far_from_the_spot_are_named_with_their_metres():
    assert far_words([]) == ""
    assert far_words([("C", 766.2)]).startswith(" C 766 m off the spot stands too far for its light and pavement")
    assert " B 60 m and C 766 m off the spot stand too far" in far_words([("B", 60.0), ("C", 766.2)])


def setting(over, fits=True, fit="fits"):
    return OneSetting(Dialled(START, 0.0, True, fit, ()), over, fits)


def test_one_setting_fits_or_not_or_is_off_the_dials():
    names = ("A", "B")
    assert one_setting_words(names, setting((0.0, 0.01))).text == (
        "One setting for all stations: 1/125 s, f/5.6, ISO 200. The surroundings come out as every station wants."
    )
    wants = "Against what each wants, the surroundings come out: A 1/3 stop brighter and B 1/3 stop darker."
    assert one_setting_words(names, setting((1 / 3, -1 / 3))).text.endswith(wants)
    assert "does not do for all: dial anew at each station" in one_setting_words(names, setting((2, -2), False)).text
    assert "off the cameras' dials" in one_setting_words(names, setting((0.0, 0.0), True, "too bright")).text


def test_changes_are_listed():
    assert (
        changed_words([("width", "1 m", "2 m"), ("stands", "0", "2")]) == "width from 1 m to 2 m and stands from 0 to 2"
    )


def test_facts_of_a_plan_tell_what_nobody_filled_in():
    facts = dict(plan_facts(PlanDraft(workshop_id=1, indoors="The hall"), ["A", "B"], []))
    assert (facts["Stations"], facts["In rain"], facts["Found by"]) == ("A and B", "The hall", "not filled in")
    assert "Then to" not in facts
    assert dict(plan_facts(PlanDraft(workshop_id=1), [], ["Quay", "Square"]))["Then to"] == "Quay and Square"


def test_a_plan_says_what_is_missing():
    plan = PlanDraft(workshop_id=1, talks="Bo", meets_by="By the pump")
    missing = missing_of(plan, has_fallback=False)
    assert missing == ("where to meet in rain", "the address an ambulance is sent to", "a spot to go to instead")
    told = plan_answer(plan, "16:30 CEST", missing).text
    assert told.startswith(
        "Groups of 3, 10 frames a turn, 8 where every group is full. The fallback is decided on by 16:30"
    )
    assert told.endswith(
        "Still to be filled in: where to meet in rain, the address an ambulance is sent to and a spot to go to instead."
    )
    full = PlanDraft(workshop_id=1, talks="Bo", meets_by="x", indoors="x", ambulance="x", frames=6)
    assert plan_answer(full, "x", missing_of(full, has_fallback=True)).text.endswith("All is filled in.")
