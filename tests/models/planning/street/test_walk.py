"""Walks between points: straight, along the footways of imports, both where they disagree."""

from __future__ import annotations

import pytest

from models.exchange.osm import ATTRIBUTION
from models.planning.street.walk import ASIDE_M, FARTHEST_M, walk_between
from models.problems import InputProblem
from models.store.town import replace_import
from models.street.town import FootwayDraft, TownDraft
from models.street.walking import DETOUR, GROUP_PACE_M_S, SLOW_PACE_M_S
from models.words import walk as words
from models.words.never import forbidden_in
from tests.models.street.ways import at, path

HERE, THERE = at(0, 0), at(300, 0)


def lay(store, *ways: FootwayDraft, attribution: str = "", name: str = "ways") -> None:
    with store.writing() as s:
        replace_import(s, name, TownDraft(footways=ways, attribution=attribution))


def test_without_footways_the_straight_distance_with_a_detour_and_it_says_so(plans):
    found = walk_between(plans, HERE, THERE)
    (walk,) = found.walks
    assert walk.how == "straight"
    assert walk.distance_m == pytest.approx(300 * DETOUR, rel=0.002)
    assert walk.time_s == pytest.approx(300 * DETOUR / GROUP_PACE_M_S, rel=0.002)
    assert found.said.text == "7 minutes on foot: 390 m by the straight distance with a detour, at 1.07 m/s."
    assert words.NO_FOOTWAYS in found.notes
    assert found.line == ()


def test_along_footways_where_they_lead_there(plans):
    lay(plans, path((0, 0), (0, 40), (300, 40), (300, 0)))
    found = walk_between(plans, HERE, THERE)
    (walk,) = found.walks
    assert (walk.how, walk.stairs, walk.crossings) == ("footways", 0, 0)
    assert walk.distance_m == pytest.approx(380, abs=1)
    assert found.line[0] == pytest.approx(HERE[::-1], abs=2e-6)
    assert found.line[-1] == pytest.approx(THERE[::-1], abs=2e-6)
    assert found.straight_m == pytest.approx(300, abs=1)


def test_both_where_they_differ_by_more_than_a_third_the_longer_first(plans):
    lay(plans, path((0, 0), (0, 200), (300, 200), (300, 0)))
    found = walk_between(plans, HERE, THERE)
    assert [walk.how for walk in found.walks] == ["footways", "straight"]
    assert "They differ by more than a third: walk it once." in found.said.text


def test_a_new_import_is_seen_at_once(plans):
    assert walk_between(plans, HERE, THERE).walks[0].how == "straight"
    lay(plans, path((0, 0), (0, 40), (300, 40), (300, 0)))
    assert walk_between(plans, HERE, THERE) is walk_between(plans, HERE, THERE), "worked out once"
    assert walk_between(plans, HERE, THERE).walks[0].distance_m == pytest.approx(380, abs=1)
    lay(plans, path((0, 0), (0, 30), (300, 30), (300, 0)))
    assert walk_between(plans, HERE, THERE).walks[0].distance_m == pytest.approx(360, abs=1)


def test_stairs_and_roads_are_notes_and_add_no_time(plans):
    lay(plans, path((0, 0), (100, 0)), path((100, 0), (110, 0), kind="steps"), path((110, 0), (300, 0)),
        path((200, -20), (200, 20), kind="residential"), attribution=ATTRIBUTION)  # fmt: skip
    found = walk_between(plans, HERE, THERE)
    (walk,) = found.walks
    assert (walk.stairs, walk.crossings) == (1, 1)
    assert walk.time_s == pytest.approx(300 / GROUP_PACE_M_S, abs=2)
    assert found.said.text.endswith("; 1 flight of stairs and 1 road to cross.")
    assert {words.STAIRS, words.CROSSINGS, words.WAITING} == set(found.notes)


def test_only_ways_drawn_by_hand_meet_where_they_cross(plans):
    bridge = (path((0, 0), (200, 0)), path((150, -50), (150, 10), (300, 10), (300, 0)))
    lay(plans, *bridge, attribution=ATTRIBUTION)
    assert words.NO_WAY in walk_between(plans, HERE, THERE).notes
    lay(plans, *bridge)
    found = walk_between(plans, HERE, THERE)
    assert found.walks[0].how == "footways"
    assert words.BY_HAND in found.notes
    lay(plans, path((0, 60), (10, 60)), attribution=ATTRIBUTION, name="another")
    assert words.NO_WAY in walk_between(plans, HERE, THERE).notes, "some of them share points, crossing is no meeting"


def test_open_ground_at_both_ends_is_named(plans):
    lay(plans, path((0, 30), (300, 30)))
    assert any(note.startswith("About 60 m of it lie off") for note in walk_between(plans, HERE, THERE).notes)


def test_a_slower_group_takes_longer_and_the_way_stays_the_same(plans):
    lay(plans, path((0, 0), (0, 40), (300, 40), (300, 0)))
    usual, slow = (walk_between(plans, HERE, THERE, pace) for pace in (GROUP_PACE_M_S, SLOW_PACE_M_S))
    assert slow.walks[0].time_s > usual.walks[0].time_s
    assert slow.line == usual.line


def test_footways_far_aside_are_not_looked_at(plans):
    lay(plans, path((0, ASIDE_M + 50), (300, ASIDE_M + 50)))
    assert words.NO_FOOTWAYS in walk_between(plans, HERE, THERE).notes


def test_the_same_place_and_one_out_of_reach(plans):
    same = walk_between(plans, HERE, HERE)
    assert (same.walks, same.said) == ((), words.SAME_PLACE)
    far = walk_between(plans, HERE, (-40.0, 179.0))
    assert far.walks == ()
    assert far.straight_m > FARTHEST_M
    assert far.said.text.startswith("Too far to walk: ")


@pytest.mark.parametrize(("start", "goal"), [((52.5, 179.999), (52.5, -179.999)), ((89.9999, 0.0), (89.9999, 90.0))])
def test_over_the_date_line_and_near_the_pole(plans, start, goal):
    lay(plans, path((0, 0), (1, 0)))
    found = walk_between(plans, start, goal)
    assert found.walks[0].how == "straight"
    assert found.straight_m < 300


def test_a_pace_nobody_walks_is_named(plans):
    with pytest.raises(InputProblem) as problem:
        walk_between(plans, HERE, THERE, 0.0)
    assert problem.value.field == "pace_m_s"


def test_nothing_said_of_a_walk_is_permission():
    said = [words.NO_FOOTWAYS, words.NO_WAY, words.STAIRS, words.CROSSINGS, words.WAITING, *words.WALKING_CAUTIONS]
    assert [forbidden_in(each) for each in said] == [[]] * len(said)
