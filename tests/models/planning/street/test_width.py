"""The clear width: what a station leaves, against which minima, how tight it gets when, and what that becomes."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.demo import open_demo
from models.planning.rules.what_if import read_footprint
from models.planning.street.counts import add_count
from models.planning.street.counts_form import read_count_form
from models.planning.street.width_ask import read_width_asked
from models.planning.street.width_page import width_page
from models.problems import InputProblem
from models.rules.rule import RuleDraft
from models.store import rules as kept
from models.store.spots import find_spot
from models.words.never import forbidden_in
from tests.models.planning.grounds import at, stand

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
SATURDAY = at("2026-10-17T15:10")
COUNT = {"number": "620", "minutes": "10", "day": "10 Oct", "clock": "17:00"}


def page_of(plans, spot, **asked):
    return width_page(plans, spot.id, SATURDAY, asked, NOW)


def test_width_less_station_kerb_and_door_is_what_is_left(plans):
    spot = stand(plans, "Lane", pavement_width_m=4.5)
    page = page_of(plans, spot)
    assert page.left_m == pytest.approx(4.5 - 1.5 - 0.45)
    assert not page.obstructs
    assert page.what_if == {"width": "2.55 m"}
    assert len(page.verdicts) == 4
    assert page_of(plans, spot, door="2 ft", depth="1 m").left_m == pytest.approx(4.5 - 1 - 0.45 - 0.61, abs=0.001)
    assert page_of(plans, spot, wide="20 m").left_m == pytest.approx(18.05)


def test_what_is_short_of_a_minimum_becomes_an_obstruction_of_the_rules(plans):
    spot = stand(plans, "Underpass", pavement_width_m=2.2)
    page = page_of(plans, spot)
    assert page.obstructs
    assert page.left_m == pytest.approx(0.25)
    assert "An obstruction of the footway" in page.finding.text
    assert "Not checked" in page.finding.text
    footprint = read_footprint(page.what_if, SATURDAY)
    assert footprint.doing.obstruction is True
    assert footprint.width_left_m == pytest.approx(0.25)
    with plans.writing() as s:
        kept.add_rule(s, RuleDraft(spot_id=spot.id, activity="obstruction", found="not_permitted", source_title="A",
                                   checked_on=date(2026, 10, 1)))  # fmt: skip
    assert "Recorded as not permitted" in page_of(plans, spot).finding.text
    assert forbidden_in(page.answer.text + page.finding.text + page.hours) == []


def test_the_rule_of_the_place_stands_in_for_the_published_ones(plans):
    spot = stand(plans, "Lane", pavement_width_m=4.5)
    page = page_of(plans, spot, own="3 m")
    assert len(page.verdicts) == 1
    assert page.obstructs
    assert not page_of(plans, spot, own="2.5 m").obstructs


def recorded(plans, **noted):
    facts = {
        "activity": "obstruction",
        "found": "not_permitted",
        "source_title": "By-law",
        "checked_on": date(2026, 9, 1),
    }
    with plans.writing() as s:
        return kept.add_rule(s, RuleDraft(**facts | noted))


def test_a_width_on_record_stands_in_for_the_published_ones(plans):
    spot = stand(plans, "Lane", pavement_width_m=4.5)
    assert not page_of(plans, spot).recorded
    recorded(plans, spot_id=spot.id, width_min_m=2.5)
    page = page_of(plans, spot)
    assert page.recorded
    assert page.verdicts == (
        "the rule of this spot, 2.50 m: 0.05 m over. By-law (read on Tuesday 1 September 2026), about obstruction of "
        "the footway.",
    )
    assert "Not under the rule of this spot; ask all the same." in page.answer.text
    assert not page.obstructs
    assert page.asked.own_rule is None
    assert {word.parameter: word.shown for word in page.asked.sentence.words}["own"] == "2.5 m"
    narrow = page_of(plans, spot, depth="1.6 m")
    assert narrow.obstructs
    assert "Recorded as not permitted" in narrow.finding.text


def test_all_widths_on_record_are_judged_and_the_typed_one_besides(plans):
    spot = stand(plans, "Lane", pavement_width_m=4.5)
    recorded(plans, spot_id=spot.id, width_min_m=2.5)
    recorded(plans, spot_id=spot.id, width_min_m=3.0, activity="group", found="needed", check_again=date(2026, 10, 1))
    page = page_of(plans, spot)
    assert [verdict.partition(":")[0] for verdict in page.verdicts] == [
        "the rule of this spot, 3.00 m",
        "the rule of this spot, 2.50 m",
    ]
    assert "Too old since Thursday 1 October 2026: check it again." in page.verdicts[0]
    assert len(page_of(plans, spot, own="3 m").verdicts) == 2, "what is on record already"
    assert len(page_of(plans, spot, own="no width of its own").verdicts) == 2, "a record is not wished away"
    assert len(page_of(plans, spot, own="3.5 m").verdicts) == 3


def test_a_width_on_record_for_other_hours_is_not_asked_for_now(plans):
    spot = stand(plans, "Lane", pavement_width_m=4.5)
    recorded(plans, spot_id=spot.id, width_min_m=4.0, weekdays=(0,))
    assert not page_of(plans, spot).recorded


def test_a_width_that_is_a_little_short_stays_short_in_the_rules(plans):
    spot = stand(plans, "Lane", pavement_width_m=3.4464)
    recorded(plans, spot_id=spot.id, width_min_m=1.5)
    page = page_of(plans, spot)
    assert page.left_m == pytest.approx(1.496)
    assert page.what_if == {"width": "1.49 m", "obstruction": "yes"}


def test_a_width_on_record_is_said_where_the_pavement_is_not_measured(plans):
    spot = stand(plans, "Yard")
    recorded(plans, spot_id=spot.id, width_min_m=1.5)
    (line,) = page_of(plans, spot).verdicts
    assert line.startswith("the rule of this spot, 1.50 m: the pavement is not measured. By-law ")


def test_only_too_narrow_in_one_hour(plans):
    spot = stand(plans, "Arcade", pavement_width_m=4.5)
    assert "not known" in page_of(plans, spot).answer.text
    add_count(plans, read_count_form(COUNT, spot, NOW))
    add_count(plans, read_count_form(COUNT | {"clock": "11:00", "number": "20"}, spot, NOW))
    page = page_of(plans, spot)
    assert (page.before.crowd, page.beside.crowd) == ("room to pass", "tight")
    assert page.hours == (
        "Tight or blocked beside the station on Saturdays 17 to 18 h; in the other hour counted there is room to pass."
    )
    quiet = width_page(plans, spot.id, replace(SATURDAY, instant=datetime(2026, 10, 17, 9, 10, tzinfo=UTC)), {}, NOW)
    assert quiet.beside.crowd == "room to pass"


def test_a_way_blocked_by_those_who_come_by_is_an_obstruction_too(plans):
    spot = stand(plans, "Arcade", pavement_width_m=4.5)
    add_count(plans, read_count_form(COUNT | {"number": "2000"}, spot, NOW))
    page = page_of(plans, spot)
    assert page.beside.crowd == "blocked"
    assert page.obstructs
    assert "blocked by those who come by" in page.finding.text


def test_a_pavement_nobody_measured_says_so(plans):
    page = page_of(plans, stand(plans, "Yard"))
    assert not page.known
    assert page.left_m is None
    assert "not measured" in page.answer.text
    assert page_of(plans, stand(plans, "Court"), wide="3 m").known


@given(st.floats(0, 10), st.floats(0, 10))
def test_a_deeper_station_never_leaves_more(one, other):
    less, more = sorted((one, other))
    asked = [read_width_asked({"depth": f"{depth:.2f} m"}, 4.0).pavement for depth in (less, more)]
    assert asked[0].left_m >= asked[1].left_m


@pytest.mark.parametrize("name", ["wide", "depth", "length", "kerb", "door", "own"])
@pytest.mark.parametrize("text", ["wide enough", "-1", "999 m", "nan", "1e3"])
def test_words_that_are_no_lengths_are_named(name, text):
    with pytest.raises(InputProblem) as problem:
        read_width_asked({name: text}, 4.0)
    assert problem.value.field == name


def test_what_is_shown_reads_back_the_same():
    asked = read_width_asked({"wide": "11 ft", "own": "6 ft", "kerb": "0"}, None)
    again = read_width_asked({word.parameter: word.shown for word in asked.sentence.words}, None)
    assert again.pavement.width_m == pytest.approx(asked.pavement.width_m, abs=0.001)
    assert again.own_rule.width_m == pytest.approx(asked.own_rule.width_m, abs=0.001)
    assert again.pavement.kerb_m == 0


def test_feet_stay_feet_and_a_width_measured_in_feet_is_not_shifted():
    measured_m = 15 * 0.3048
    asked = read_width_asked({"depth": "4  ft", "length": "48 in", "door": "0.6"}, measured_m)
    shown = {word.parameter: word.shown for word in asked.sentence.words}
    assert shown == {"wide": "4.57 m", "depth": "4 ft", "length": "48 in", "kerb": "0.45 m", "door": "0.6 m",
                     "own": "no width of its own"}  # fmt: skip
    again = read_width_asked(shown, measured_m)
    assert again.pavement == asked.pavement
    assert again.pavement.width_m == measured_m


def test_the_demo_has_one_too_narrow_and_one_only_on_saturday_afternoon(tmp_path):
    store = open_demo(tmp_path / "demo.sqlite3")
    with store.reading() as s:
        underpass, arcade = find_spot(s, "Station Road underpass"), find_spot(s, "Town Hall Arcade")
    afternoon, morning = at("2026-10-17T13:10"), at("2026-10-17T09:10")
    narrow = width_page(store, underpass.id, afternoon, {}, NOW)
    pages = [width_page(store, arcade.id, moment, {}, NOW) for moment in (afternoon, morning)]
    store.close()
    assert narrow.obstructs
    assert narrow.recorded
    assert [line.partition(",")[0] for line in narrow.verdicts] == ["the rule of Station Road"]
    assert [page.beside.crowd for page in pages] == ["tight", "room to pass"]
    assert pages[0].hours.startswith("Tight or blocked beside the station on Saturdays 14 to 15 h and 15 to 16 h;")
