"""What is noted at the spot: a line nobody edited follows it, an edited one stays and the page says that it differs."""

from __future__ import annotations

from dataclasses import replace

import pytest

from models.planning.briefing.facts import facts_of
from models.planning.street.hazards import keep_sheet, same_in_sheet
from models.planning.street.hazards_form import read_sheet_form
from models.planning.street.hazards_page import hazards_page
from models.store import rules
from models.store.hazards import sheet_of, sheets, stored_sheet_of
from models.store.spots import SpotDraft
from models.store.spots import shelf as spots
from models.store.versions import drafted
from tests.models.planning.street.sheeted import ENDS, NOW, STARTS, form_of, kept, keys, planned


@pytest.fixture
def workshop(plans):
    return planned(plans, STARTS, ENDS)


def note(plans, workshop, words):
    """Something else is noted at the workshop's spot."""
    with plans.writing() as s:
        spot = spots.find(s, rules.get_workshop(s, workshop).spot_id)[0]
        spots.change(s, spot.id, spot.version, replace(drafted(SpotDraft, spot), hazards=words))


def noted_in(plans, workshop):
    """What the page, its form and everybody who reads the sheet are told of it."""
    page = hazards_page(plans, workshop, NOW)
    (line,) = [line for line in page.sheet.lines if line.key == "noted"] or [None]
    with plans.reading() as s:
        told = [each for each in sheet_of(s, workshop).lines if each.key == "noted"]
    assert told == ([line] if line else [])
    return line and line.what


def test_a_line_about_the_spot_that_nobody_edited_says_what_is_noted_there_now(plans, workshop):
    kept(plans, workshop, emergency_number="112", first_aider="Ida", wind_m_s="4", water="yes", tick_1="yes")
    assert noted_in(plans, workshop) == "Open water without a rail"
    note(plans, workshop, "Scaffolding over the quay")
    assert noted_in(plans, workshop) == "Scaffolding over the quay"
    page = hazards_page(plans, workshop, NOW)
    assert not page.sheet.lines[0].is_done
    assert page.noted == ""
    kept(plans, workshop, 1, tick_1="yes")
    assert hazards_page(plans, workshop, NOW).sheet.lines[0].is_done
    note(plans, workshop, "Ice on the steps")
    assert noted_in(plans, workshop) == "Ice on the steps"


def test_a_form_loaded_before_the_spot_was_changed_brings_the_old_words_not_back(plans, workshop):
    kept(plans, workshop)
    loaded = form_of(plans, workshop, tick_1="yes")
    for version, words in enumerate(("Ice on the steps", ""), start=1):
        note(plans, workshop, words)
        keep_sheet(plans, read_sheet_form(loaded, workshop), version)
        assert noted_in(plans, workshop) == (words or None)
        loaded = form_of(plans, workshop)


def test_what_is_noted_later_comes_onto_the_sheet_and_can_be_left_out(plans, workshop):
    note(plans, workshop, "")
    kept(plans, workshop)
    assert noted_in(plans, workshop) is None
    note(plans, workshop, "Ice on the steps")
    assert noted_in(plans, workshop) == "Ice on the steps"
    number = keys(hazards_page(plans, workshop, NOW).sheet.lines).index("noted") + 1
    kept(plans, workshop, 1, **{f"cut_{number}": "yes"})
    assert noted_in(plans, workshop) is None
    assert keys(hazards_page(plans, workshop, NOW).left_out) == ["noted"]
    note(plans, workshop, "Ice and glass on the steps")
    assert noted_in(plans, workshop) is None


def test_an_edited_line_about_the_spot_stays_and_the_page_says_that_it_differs(plans, workshop):
    kept(plans, workshop, what_1="Open water: a ring hangs at the crane")
    assert hazards_page(plans, workshop, NOW).noted == ""
    note(plans, workshop, "Scaffolding over the quay")
    assert noted_in(plans, workshop) == "Open water: a ring hangs at the crane"
    assert "“Scaffolding over the quay”" in hazards_page(plans, workshop, NOW).noted
    with plans.writing() as s:
        same_in_sheet(s, workshop, "Quay 7")
    assert hazards_page(plans, workshop, NOW).noted
    kept(plans, workshop, 2)
    assert hazards_page(plans, workshop, NOW).noted == ""
    note(plans, workshop, "")
    assert "Nothing is noted at the spot any more" in hazards_page(plans, workshop, NOW).noted


def test_a_sheet_from_before_it_remembered_what_was_noted_says_that_it_differs(plans, workshop):
    kept(plans, workshop)
    with plans.writing() as s:
        s.execute(sheets.update().values(noted=None))
    assert hazards_page(plans, workshop, NOW).noted == ""
    note(plans, workshop, "Scaffolding over the quay")
    assert "“Scaffolding over the quay”" in hazards_page(plans, workshop, NOW).noted
    with plans.reading() as s:
        assert stored_sheet_of(s, workshop).noted is None


def test_a_briefing_tells_what_is_noted_at_the_spot_now(plans, workshop):
    kept(plans, workshop, emergency_number="112", first_aider="Ida", wind_m_s="4")
    assert "Open water without a rail" in repr(facts_of(plans, workshop, NOW))
    note(plans, workshop, "Scaffolding over the quay")
    told = repr(facts_of(plans, workshop, NOW))
    assert "Scaffolding over the quay" in told
    assert "Open water without a rail" not in told
