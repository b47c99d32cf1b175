"""The map sketch of a workshop: the places that are kept, between the houses on record, in words too."""

from __future__ import annotations

from dataclasses import replace

import pytest

from models.drawing.map_sketch import MOST_BYTES
from models.planning.briefing.near import COMFORT_M, near_told
from models.planning.briefing.places import places_of, told_places
from models.planning.briefing.sketch import NEAR_FALLBACK_M, map_sketch, sketch_of
from models.planning.briefing.versions import current, issue
from models.store.plans import keep_plan
from models.store.rules import change_workshop, get_workshop, list_workshops
from models.store.spots import shelf as spots
from models.store.town import replace_import
from models.store.versions import Missing
from models.street.town import HintDraft, TownDraft
from models.words import map_sketch as words
from models.words.never import forbidden_in
from models.workshop.plan import PlanDraft
from tests.databases import copy_of
from tests.models.drawing.reading import SVG, meeting, outside, parse, texts
from tests.models.planning.grounds import HOSTILE, PLANE, block, stand
from tests.models.planning.workshops.evening import LANE, NOW, keep_evening, keep_station
from tests.models.street.ways import at, path

MIDDLE = tuple(float(each) for each in PLANE.to_metres(*LANE))
"""Of the spot, in metres of the plane that `at` is laid out on."""


def round_spot(east_m: float, north_m: float) -> tuple[float, float]:
    return at(MIDDLE[0] + east_m, MIDDLE[1] + north_m)


@pytest.fixture
def evening(plans):
    number, _ = keep_evening(plans)
    return number


def change(store, number, **changes):
    with store.writing() as s:
        workshop = get_workshop(s, number)
        return change_workshop(s, number, workshop.version, replace(workshop, **changes))


def lay(store, *hints, footways=(), buildings=()):
    drafts = tuple(HintDraft(*round_spot(east, north), kind, name) for kind, east, north, name in hints)
    with store.writing() as s:
        replace_import(s, "town", TownDraft(hints=drafts, footways=footways, buildings=buildings))


def drawn(store, number):
    return map_sketch(store, places_of(store, number, NOW))


def test_a_spot_alone_says_that_there_is_no_meeting_point(plans, evening):
    sketch = drawn(plans, evening)
    assert [(mark.kind, mark.at) for mark in sketch.marks] == [("spot", (0.0, 0.0))]
    assert sketch.notes == (words.NO_MEETING,)
    assert words.NO_MEETING in sketch.desc
    assert sketch.way == ()


def test_all_places_stand_where_they_are(plans, evening):
    fallback = stand(plans, "Dock Road", MIDDLE[0] + 30, MIDDLE[1] + 200)
    change(plans, evening, meeting_point=round_spot(-100, -50), fallback_spot_id=fallback.id)
    keep_station(plans, evening, name="A")
    keep_station(plans, evening, name="B", place=round_spot(12, 3))
    lay(plans, ("toilets", 60, 0, ""), ("coffee", -40, 10, "Ladle"), ("coffee", -90, 10, "Kiosk"), ("bus", 5, 5, ""))
    sketch = drawn(plans, evening)
    where = {mark.label: mark.at for mark in sketch.marks}
    expected = {
        "Spot": (0, 0), "Meet": (-100, -50), "Fallback": (30, 200), "A": (0, 0), "B": (12, 3), "Toilets": (60, 0),
        "Coffee": (-40, 10),
    }  # fmt: skip
    assert where.keys() == expected.keys()
    for label, place in expected.items():
        assert where[label] == pytest.approx(place, abs=0.1), label
    assert "Fallback: Dock Road, 200 m to the north." in sketch.desc
    assert "coffee (Ladle) 40 m to the west and toilets 60 m to the east" in sketch.desc.replace(", ", " and ")
    assert forbidden_in(sketch.desc) == []


def test_all_of_it_is_said_in_words_too(plans, evening):
    stand(plans, "Market Square", MIDDLE[0] - 100, MIDDLE[1])
    change(plans, evening, meeting_point=round_spot(-100, 0))
    with plans.writing() as s:
        keep_plan(s, 0, PlanDraft(workshop_id=evening, meets_by="By the pump"))
    said = drawn(plans, evening).desc
    assert (
        "Meeting point: Market Square, 100 m to the west of it. To find it: By the pump. The walk to the spot" in said
    )
    assert ".." not in said


def test_the_way_runs_along_the_footways_on_record_and_is_broken_without(plans, evening):
    change(plans, evening, meeting_point=round_spot(-100, 0))
    assert drawn(plans, evening).known is False
    assert drawn(plans, evening).notes == (words.BROKEN,)
    round_about = path(*((MIDDLE[0] + x, MIDDLE[1] + y) for x, y in ((-100, 0), (-50, 40), (0, 0))))
    lay(plans, footways=(round_about,))
    sketch = drawn(plans, evening)
    assert sketch.known is True
    assert sketch.notes == ()
    assert sketch.way[1] == pytest.approx((-50, 40), abs=0.5)
    assert len(sketch.paths) == 1


@pytest.mark.parametrize(("north_m", "is_drawn"), [(NEAR_FALLBACK_M - 20, True), (3000.0, False)])
def test_a_fallback_far_off_is_said_and_not_drawn(plans, evening, north_m, is_drawn):
    fallback = stand(plans, "Dock Road", MIDDLE[0], MIDDLE[1] + north_m)
    change(plans, evening, meeting_point=round_spot(-100, 0), fallback_spot_id=fallback.id)
    sketch = drawn(plans, evening)
    assert ("Fallback" in [mark.label for mark in sketch.marks]) is is_drawn
    assert ("Fallback 3.0 km to the north: not drawn." in sketch.notes) is not is_drawn
    assert "Fallback: Dock Road" in sketch.desc


def test_toilets_out_of_reach_are_left_out(plans, evening):
    lay(plans, ("toilets", COMFORT_M + 20, 0, ""), ("shelter", 0, -(COMFORT_M - 20), ""))
    assert [mark.label for mark in drawn(plans, evening).marks] == ["Spot", "Shelter"]


def test_houses_on_the_field_are_drawn_and_those_far_away_are_not(plans, evening):
    near = block(MIDDLE[0] + 5, MIDDLE[1] + 5, MIDDLE[0] + 25, MIDDLE[1] + 25, 12.0)
    far = block(MIDDLE[0] + 900, MIDDLE[1], MIDDLE[0] + 920, MIDDLE[1] + 20, 12.0)
    lay(plans, buildings=(near, far))
    assert len(drawn(plans, evening).outlines) == 1
    assert 'class="map-house"' in sketch_of(plans, evening, current(plans, evening, NOW), NOW)


def test_hostile_names_stay_text(plans, evening):
    change(plans, evening, title=HOSTILE, meeting_point=round_spot(-100, 0))
    lay(plans, ("coffee", 30, 0, HOSTILE))
    root = parse(sketch_of(plans, evening, current(plans, evening, NOW), NOW))
    assert not [e for e in root.iter() if e.tag.endswith(("script", "img"))]
    assert "</script>" in (root.find(f"{SVG}title").text or "")


def test_it_shows_the_places_of_the_version_that_was_issued_until_the_workshop_is_moved(plans, evening):
    change(plans, evening, meeting_point=round_spot(-100, 0))
    keep_station(plans, evening, name="A", place=round_spot(3, 0))
    told = issue(plans, evening, NOW).facts
    before = told_places(plans, evening, current(plans, evening, NOW), NOW)
    change(plans, evening, meeting_point=round_spot(0, 200))
    assert told_places(plans, evening, current(plans, evening, NOW), NOW) == before
    assert before.stations[0].name == "A"
    assert before.walk_words == told.walk
    assert map_sketch(plans, before).desc.count(before.walk_words) == 1
    assert places_of(plans, evening, NOW).meeting.latitude_deg > before.meeting.latitude_deg
    change(plans, evening, spot_id=stand(plans, "Dock Road", MIDDLE[0] + 50, MIDDLE[1]).id)
    moved = told_places(plans, evening, current(plans, evening, NOW), NOW)
    assert (moved.spot.name, moved.meeting) == ("Dock Road", places_of(plans, evening, NOW).meeting)


def test_no_such_workshop(plans, evening):
    draft = current(plans, evening, NOW)
    with pytest.raises(Missing):
        sketch_of(plans, 77, draft, NOW)


def test_every_workshop_of_the_demo_town_has_a_small_sketch_whose_words_do_not_meet(demo_once, tmp_path):
    with copy_of(demo_once, tmp_path) as demo:
        see_all_of(demo)


def see_all_of(demo):
    with demo.reading() as s:
        numbers = [workshop.id for workshop in list_workshops(s)]
    for number in numbers:
        drawing = sketch_of(demo, number, current(demo, number, NOW), NOW)
        root = parse(drawing)
        assert len(drawing.encode()) < MOST_BYTES
        assert meeting(root) == []
        assert outside(root) == []
        assert {"Spot", "Fallback", "north"} <= set(texts(root))


def test_what_is_near_is_told_in_words_too(plans):
    keep_evening(plans, facilities="None. A bench further on.")
    lay(plans, ("toilets", 0, 90, "Hall"), ("toilets", 0, 200, "Far"), ("coffee", 120, 0, ""))
    with plans.reading() as s:
        spot = spots.get(s, 1)
    assert near_told(plans, spot) == (
        "toilets (Hall) 90 m to the north and coffee 120 m to the east. As a map has them; look before the day whether "
        "they are open. At the spot itself there is nothing. A bench further on."
    )
