"""The width left beside a station, and the crowd on it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.street.clearance import PUBLISHED, Minimum, Pavement, clearance, deepest_station_m
from models.street.crowding import LEVELS, WORDS, before_and_with, crowding

STREET = Pavement(3.6, 1.2)
metres = st.floats(0, 20)


def test_what_is_left_is_the_pavement_less_station_kerb_and_door():
    pavement = Pavement(3.6, 1.2, kerb_m=0.45, door_m=0.6)
    assert (pavement.before_m, pavement.left_m) == (2.55, 1.35)
    assert Pavement(1.5, 1.4).left_m == 0
    assert Pavement(2.9, 0.9, kerb_m=0).left_m == 2.0


def test_a_rule_of_the_place_stands_in_place_of_all_others():
    own = Minimum("Havenmark by-law 12", 1.8, "made up")
    judged = clearance(STREET, own)
    assert judged.own
    assert [verdict.minimum for verdict in judged.verdicts] == [own]
    assert judged.missed == ()
    assert clearance(replace(STREET, depth_m=1.4), own).missed[0].short_m == 0.05
    assert [verdict.minimum for verdict in clearance(STREET).verdicts] == list(PUBLISHED)


def test_the_deepest_station_just_leaves_the_minimum():
    for minimum in PUBLISHED:
        deepest_m = deepest_station_m(STREET, minimum)
        judged = clearance(replace(STREET, depth_m=deepest_m), minimum)
        assert not judged.missed
        assert clearance(replace(STREET, depth_m=deepest_m + 0.001), minimum).missed
    assert deepest_station_m(Pavement(1.5, 0), PUBLISHED[0]) == 0


@given(metres, metres, metres)
def test_a_deeper_station_never_leaves_more_width(width_m, depth_m, more_m):
    shallow, deep = Pavement(width_m, depth_m), Pavement(width_m, depth_m + more_m)
    assert deep.left_m <= shallow.left_m <= shallow.before_m
    assert len(clearance(deep).missed) >= len(clearance(shallow).missed)


@given(metres, metres, st.floats(0, 6000))
def test_a_deeper_station_never_makes_more_room_to_pass(width_m, depth_m, people_per_h):
    before, beside = before_and_with(Pavement(width_m, depth_m), people_per_h)
    worse = list(WORDS.values())
    assert worse.index(beside.crowd) >= worse.index(before.crowd)
    assert LEVELS.index(beside.level) >= LEVELS.index(before.level)


def test_too_narrow_only_on_saturday_afternoon():
    """A quiet weekday and a busy Saturday on the same 1.8 m."""
    pavement = Pavement(3.25, 1.0)
    assert [each.crowd for each in before_and_with(pavement, 240)] == ["room to pass", "room to pass"]
    assert [each.crowd for each in before_and_with(pavement, 2600)] == ["room to pass", "tight"]
    assert [each.level for each in before_and_with(pavement, 2600)] == ["A", "C"]


def test_the_word_comes_from_the_width_where_that_is_worse():
    assert (crowding(1.0, 60).crowd, crowding(1.0, 60).narrow) == ("tight", True)
    assert (crowding(0.5, 60).crowd, crowding(0.5, 60).narrow) == ("blocked", True)
    assert (crowding(1.0, 6000).crowd, crowding(1.0, 6000).narrow) == ("blocked", False)
    assert (crowding(0.0, 0).crowd, crowding(0.0, 0).level) == ("blocked", "F")


@pytest.mark.parametrize(
    ("field", "bad"),
    [
        ("width_m", {"width_m": -1}),
        ("width_m", {"width_m": math.nan}),
        ("depth_m", {"depth_m": 51}),
        ("length_m", {"length_m": math.inf}),
        ("kerb_m", {"kerb_m": -0.1}),
        ("door_m", {"door_m": 11}),
    ],
)
def test_measures_that_cannot_be_are_refused_by_name(field, bad):
    with pytest.raises(InputProblem) as problem:
        Pavement(**({"width_m": 3, "depth_m": 1} | bad))
    assert problem.value.field == field
