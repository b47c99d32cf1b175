"""The list of spots: its orders and pages, what it says while it works, and what it never hides."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from models.planning import spots as listing
from models.planning.answers import SpotsPage
from models.planning.spots import home_zone, spots_page
from models.problems import InputProblem
from models.store.kit import add_kit
from models.store.spots import add_spots
from models.street.scene import Canopy
from models.street.spot import SpotDraft
from tests.models.light.setups import CAMERA, SMALL
from tests.models.planning.grounds import HOSTILE, ZONE, at, block, build, equip, stand

NOON = at("2026-12-21T11:40")
NIGHT = at("2026-12-21T23:00")
ROOF = Canopy(0, 360, 5, 90, 0.0, 0.0, (), "a roof")


def names(page: SpotsPage) -> list[str]:
    return [row.name for row in page.rows]


@pytest.fixture(scope="module")
def street(shared_plans):
    """In the sun, behind a row to the south, under a roof; the darkest first by name. With kit; only read."""
    equip(shared_plans)
    build(shared_plans, block(-40, -30, 40, -20, 25.0))
    stand(shared_plans, "b in the shade", 0, -10)
    stand(shared_plans, "c in the sun", 0, -200, looking_deg=0.0)
    stand(shared_plans, "a under a roof", 0, 400, canopies=(ROOF,))
    return shared_plans


def test_an_empty_list_offers_the_first_step(plans):
    page = spots_page(plans, NOON)
    assert page.answer.startswith("There are no spots yet. Press on the map")
    assert (page.rows, page.total, page.page, page.pages, page.pending, page.turning_points) == ((), 0, 1, 1, 0, ())
    assert home_zone(plans) == "UTC"


def test_without_kit_there_is_light_but_no_reserve(plans):
    stand(plans, "b")
    stand(plans, "a")
    for sort in ("name", "reserve"):
        rows = spots_page(plans, NOON, sort=sort).rows
        assert [(row.name, row.state, row.reserve_stops) for row in rows] == [("a", "sun", None), ("b", "sun", None)]
        assert all(row.ev is not None and row.ev.doubt_stops > 0.7 for row in rows)


def test_orders(street):
    assert names(spots_page(street, NOON)) == ["a under a roof", "b in the shade", "c in the sun"]
    assert names(spots_page(street, NOON, sort="brightness")) == ["c in the sun", "b in the shade", "a under a roof"]
    assert names(spots_page(street, NOON, sort="reserve")) == ["a under a roof", "b in the shade", "c in the sun"]
    here = (52.53, 5.23)
    near = spots_page(street, NOON, sort="distance", here=here)
    assert names(near) == ["b in the shade", "c in the sun", "a under a roof"]
    assert [row.distance_m for row in near.rows] == pytest.approx([10, 200, 400], rel=0.005)


def test_a_distance_needs_a_place(street):
    with pytest.raises(InputProblem) as problem:
        spots_page(street, NOON, sort="distance")
    assert problem.value.field == "here"


def test_the_answer_counts_states_and_names_the_most_in_hand(street):
    answer = spots_page(street, NOON).answer
    assert answer.startswith(
        "Monday 21 December 2026, 12:40 CET. Of 3 spots 2 are in open shade and 1 is in the sun. "
        "Most in hand: a under a roof, "
    )
    assert " stops in hand at EV " in answer


def test_one_spot_is_named(plans):
    stand(plans, "Quay")
    assert spots_page(plans, NOON).answer == "Monday 21 December 2026, 12:40 CET. Quay is in the sun."
    assert spots_page(plans, NIGHT).answer == "Tuesday 22 December 2026, 00:00 CET. Quay is dark."


def test_a_camera_to_the_north_is_a_bearing_like_any_other(plans):
    """0 degrees is chosen, not missing: the spot's own usual bearing gives way to it."""
    equip(plans)
    stand(plans, looking_deg=180.0)
    stand(plans, "Twin", looking_deg=None)
    own, any_way = spots_page(plans, NOON).rows
    north, twin = spots_page(plans, NOON, ask={"looking": "0"}).rows
    assert north.ev is not None and own.ev is not None and any_way.ev is not None and twin.ev is not None  # noqa: PT018
    assert north.ev.ev100 > own.ev.ev100 + 3
    assert north.ev.ev100 == twin.ev.ev100
    assert spots_page(plans, NOON, ask={"looking": "any"}).rows == (own, any_way)


def test_a_spot_inside_a_building_says_so_and_the_rest_stand(plans):
    build(plans, block(-10, -10, 10, 10, 12.0))
    stand(plans, "in it")
    stand(plans, "off it", 100, 100)
    inside, outside = spots_page(plans, NOON).rows
    assert (inside.state, inside.ev) == (None, None)
    assert inside.state_words.startswith("inside a building: move it")
    assert outside.state == "sun"
    assert "1 is inside a building and 1 is in the sun" in spots_page(plans, NOON).answer


def test_when_patience_runs_out_the_rest_is_being_worked_out(plans, monkeypatch):
    stand(plans, "a")
    stand(plans, "b")
    with monkeypatch.context() as hurried:
        hurried.setattr(listing, "PATIENCE_S", -1.0)
        page = spots_page(plans, NOON)
    assert page.pending == 2
    assert {row.state_words for row in page.rows} == {"being worked out"}
    assert page.answer.endswith("Of 2 spots 2 are being worked out.")
    assert spots_page(plans, NOON).pending == 0


def test_hostile_names_come_through_untouched(plans):
    stand(plans, HOSTILE)
    page = spots_page(plans, NOON)
    assert names(page) == [" ".join(HOSTILE.split())]
    assert HOSTILE in page.answer


def test_pages_of_fifty_and_no_page_past_the_last(plans, monkeypatch):
    drafts = [SpotDraft(name=f"{k:03d}", latitude_deg=52.6, longitude_deg=5.2, zone=ZONE) for k in range(120)]
    with plans.writing() as s:
        add_spots(s, drafts)
    first = spots_page(plans, NIGHT)
    assert (first.total, first.pages, names(first)[0], len(first.rows)) == (120, 3, "000", 50)
    assert first.answer.startswith("Tuesday 22 December 2026, 00:00 CET. Of the 50 spots on this page 50 are dark.")
    assert names(spots_page(plans, NIGHT, page=3)) == [f"{k:03d}" for k in range(100, 120)]
    for beyond, page in ((99, 3), (0, 1), (-5, 1)):
        found = spots_page(plans, NIGHT, page=beyond)
        assert (found.page, len(found.rows)) == (page, 50 if page == 1 else 20)
    monkeypatch.setattr(listing, "MOST_BRIGHTNESS", 60)
    bright = spots_page(plans, NIGHT, sort="brightness", page=2)
    assert (bright.total, bright.pages, len(bright.rows)) == (120, 2, 10)
    assert "Only the first 60 spots by name are compared; 60 more are not." in bright.rests_on
    assert "compared" not in spots_page(plans, NIGHT).rests_on


def test_what_it_rests_on_is_said(street):
    assumed = replace(NOON, oktas=2, oktas_by="assumed")
    rests = spots_page(street, assumed).rests_on
    assert rests.startswith("Sky: 2 of 8 covered (a few clouds), assumed. EV at ISO 100, ")
    assert "no meter readings" in rests


def test_turning_points_are_those_of_the_day_by_the_clock_of_the_bar(plans):
    """21 December 2026 at 52.53 N 5.23 E, skyfield with DE421: the sun rises 08:47:40 and sets 16:26:35 CET."""
    stand(plans)
    turns = {point.words: point.local_text for point in spots_page(plans, NOON).turning_points}
    assert list(turns) == ["lamps off", "sunrise", "sun highest", "sunset", "lamps on"]
    assert (turns["sunrise"], turns["sunset"]) == ("08:48", "16:27")  # the first minute after
    assert spots_page(plans, at("2026-12-21T15:27")).rows[0].state == "dusk"
    in_utc = {p.words: p.local_text for p in spots_page(plans, replace(NOON, zone="UTC")).turning_points}
    assert minutes(turns["sunset"]) - minutes(in_utc["sunset"]) == 60


def minutes(text: str) -> int:
    clock = datetime.strptime(text, "%H:%M")  # noqa: DTZ007  a clock time only
    return clock.hour * 60 + clock.minute


def test_a_flash_without_a_camera_is_no_kit_yet(plans):
    with plans.writing() as s:
        add_kit(s, SMALL)
    stand(plans)
    assert spots_page(plans, NOON).rows[0].reserve_stops is None
    with plans.writing() as s:
        add_kit(s, CAMERA)
    assert spots_page(plans, NOON).rows[0].reserve_stops is not None


def test_a_night_without_a_word_of_the_lamps_ranks_last_and_is_no_figure(plans):
    equip(plans)
    stand(plans, "a dark")
    stand(plans, "b lit", 0, 60, night_ev100=1.0)
    for sort in ("brightness", "reserve"):
        lit, dark = spots_page(plans, NIGHT, sort=sort).rows
        assert (lit.name, dark.name) == ("b lit", "a dark")
        assert (dark.ev.unknown, dark.reserve_stops) == ((0.0, 5.0), None)
        assert lit.ev.unknown is None
        assert lit.reserve_stops is not None
