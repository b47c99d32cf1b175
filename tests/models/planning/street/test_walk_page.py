"""The page of a walk: where to, how fast, the way drawn, where else."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.street.walk_page import NOWHERE, read_pace, walk_page
from models.problems import InputProblem
from models.rules.footprint import Doing
from models.rules.workshop import WorkshopDraft
from models.store import rules as kept
from models.store.town import replace_import
from models.street.town import TownDraft
from models.street.walking import FASTEST_M_S, GROUP_PACE_M_S, SLOW_PACE_M_S, SLOWEST_M_S
from models.words import walk as words
from models.words.walk import pace_words
from tests.models.planning.grounds import HOSTILE, block, stand
from tests.models.street.ways import at, path

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)


def page_of(plans, spot, **asked):
    return walk_page(plans, spot.id, asked, NOW)


@pytest.fixture
def lane(plans):
    stand(plans, "Yard", 300, 0)
    houses = (block(100, 45, 120, 60, 9.0), block(100, 300, 120, 320, 9.0))
    with plans.writing() as s:
        replace_import(s, "town", TownDraft(houses, footways=(path((0, 0), (0, 40), (300, 40), (300, 0)),)))
    return stand(plans, "Lane")


def test_to_another_spot_along_footways_with_a_sketch(plans, lane):
    page = page_of(plans, lane, to="Yard")
    assert page.answer.text == "Lane to Yard. 6 minutes on foot: 380 m along footways, at 1.07 m/s."
    assert page.sketch.wide.count('class="way"') == 1
    assert page.sketch.wide.count("Z") == 1, "the house at the way, not the one far off it"
    assert "along the footways on record" in page.sketch.caption
    assert page.working[1].startswith("Along footways = 380 m")


def test_to_coordinates_and_at_a_slow_pace(plans, lane):
    quick, slow = (page_of(plans, lane, to="52.5300, 5.2344", pace=pace) for pace in ("", "slow"))
    assert slow.walk.pace_m_s == SLOW_PACE_M_S
    assert slow.walk.walks[0].time_s > quick.walk.walks[0].time_s
    assert slow.answer.text.startswith("Lane to 52.530000, 5.234400. ")
    assert {word.parameter: word.shown for word in slow.sentence.words}["pace"] == "slow pace"


def test_where_nothing_is_on_record_the_line_is_broken(plans):
    stand(plans, "Yard", 300, 0)
    page = page_of(plans, stand(plans, "Lane"), to="Yard")
    assert 'class="way-guessed"' in page.sketch.narrow
    assert "No way is on record" in page.sketch.caption


def test_no_goal_yet_offers_what_is_near(plans, lane):
    for asked in ({}, {"to": " "}, {"to": NOWHERE}):
        page = page_of(plans, lane, **asked)
        assert (page.known, page.walk, page.sketch) == (False, None, None)
        assert page.answer == words.SAY_WHERE
    (yard,) = page.elsewhere
    assert (yard.words, yard.to, round(yard.distance_m)) == ("Yard", "Yard", 300)


def test_where_a_workshop_here_meets_is_offered(plans, lane):
    draft = WorkshopDraft(title="Dusk", spot_id=lane.id, starts=NOW, ends=NOW.replace(hour=16), doing=Doing(),
                          meeting_point=at(-120, 0))  # fmt: skip
    with plans.writing() as s:
        kept.add_workshop(s, draft)
        kept.add_workshop(s, replace(draft, starts=NOW.replace(year=2025), ends=NOW.replace(year=2025, hour=16),
                                     title="Long over", meeting_point=at(-50, 0)))  # fmt: skip
    place = page_of(plans, lane).elsewhere[-1]
    assert (place.words, round(place.distance_m)) == ("Meeting point of Dusk", 120)
    assert page_of(plans, lane, to=place.to).walk.straight_m == pytest.approx(120, abs=0.5)


def test_out_of_reach_is_said_and_not_drawn(plans, lane):
    page = page_of(plans, lane, to="-40, 179.9")
    assert page.known
    assert "Too far to walk" in page.answer.text
    assert page.sketch is None


def test_at_the_pole_it_is_said_and_not_drawn(plans):
    pole = stand(plans, "Pole", latitude_deg=90.0, longitude_deg=0.0)
    page = page_of(plans, pole, to="89.999, 40")
    assert "3 minutes on foot" in page.answer.text
    assert page.sketch is None


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("to", "Lane"),
        ("to", "the moon"),
        ("to", HOSTILE),
        ("to", "91, 5"),
        ("to", "x" * 5000),
        ("pace", "a stroll"),
        ("pace", "0 m/s"),
        ("pace", "9 m/s"),
        ("pace", "1e9"),
        ("pace", "nan"),
        ("pace", HOSTILE),
    ],
)
def test_what_cannot_be_read_is_named(plans, lane, field, text):
    with pytest.raises(InputProblem) as problem:
        page_of(plans, lane, **{"to": "Yard"} | {field: text})
    assert problem.value.field == field


def test_what_is_shown_reads_back_the_same(plans, lane):
    for pace in ("", "group pace", "slow", "1.2", "4 km/h", "1,3 m/s"):
        first = page_of(plans, lane, to="Yard", pace=pace)
        again = page_of(plans, lane, **{word.parameter: word.shown for word in first.sentence.words})
        assert again.to == first.to
        assert again.walk.pace_m_s == pytest.approx(first.walk.pace_m_s, abs=0.005)
    assert read_pace("") == GROUP_PACE_M_S


@given(st.floats(SLOWEST_M_S, FASTEST_M_S))
def test_a_pace_in_words_reads_back(pace):
    assert read_pace(pace_words(round(pace, 2))) == pytest.approx(round(pace, 2))
