"""Wind at set-up, models of whom no picture is taken: on order, rota, sheet, day and leaf, without names in files."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest

from models.planning.workshops.day_page import day_page
from models.planning.workshops.leaf import leaf_page
from models.planning.workshops.order_page import order_page
from models.planning.workshops.rota_page import rota_page
from models.store.hazards import SheetDraft, TypedHour
from models.store.hazards import shelf as sheets
from models.store.people import people_of
from models.store.people import shelf as people
from models.workshop.hazards import HazardLine
from models.workshop.person import Person, PersonDraft
from tests.models.planning.workshops.evening import NOW, keep_station
from tests.models.planning.workshops.running_evening import keep_running
from tests.models.planning.workshops.test_rota_page import told

LINES = (HazardLine(key="wind", what="Wind", done="", who="organiser", rests="usual"),)


def blow(store, workshop, gust_m_s):
    with store.writing() as s:
        sheets.add(
            s, SheetDraft(workshop_id=workshop, lines=LINES, hour=TypedHour(wind_m_s=gust_m_s, gust_m_s=gust_m_s))
        )


def draft(person: Person) -> PersonDraft:
    return PersonDraft(**{field.name: getattr(person, field.name) for field in fields(PersonDraft)})


def set_up(page):
    return next(block for block in page.blocks if block.key == "set up")


def test_a_gale_stands_on_order_day_and_leaf_for_stations_with_stands(plans):
    """18 m/s is force 8 (Beaufort); from force 6 no stands (common practice, no source). The fill stands by itself."""
    workshop = keep_running(plans)
    keep_station(plans, workshop, name="C")
    blow(plans, workshop, 18.0)
    order, day, leaf = (page(plans, workshop, NOW) for page in (order_page, day_page, leaf_page))
    (line,) = leaf.wind
    assert line.startswith("Wind at A and B: 18.0 m/s, force 8"), "C has no lights"
    assert line.endswith("No stands at all. Bare flashes in the hand, or the fallback.")
    assert order.cautions[0] == line
    assert day.wind == (line,)
    assert line in set_up(order).warnings


@pytest.mark.parametrize(
    ("gust_m_s", "said"), [(3.0, "Weight on every stand, 5 to 10 kg"), (None, "not known. Look at")]
)
def test_a_breeze_or_none_known_is_said_at_set_up_alone(plans, gust_m_s, said):
    """3 m/s is force 2 (Beaufort)."""
    workshop = keep_running(plans)
    if gust_m_s is not None:
        blow(plans, workshop, gust_m_s)
    order = order_page(plans, workshop, NOW)
    assert any(said in line and line.startswith("Wind at A and B: ") for line in set_up(order).warnings)
    assert not [line for line in order.cautions if line.startswith("Wind")]
    assert leaf_page(plans, workshop, NOW).wind == ()


def test_a_model_whose_guardian_is_open_is_named_wherever_people_look(plans):
    workshop = keep_running(plans, models=2)
    with plans.writing() as s:
        first, second = (each for each in people_of(s, workshop) if each.part == "model")
        people.change(s, first.id, first.version, replace(draft(first), adult="no"))
        people.change(s, second.id, second.version, replace(draft(second), adult="yes", picture_consent="yes"))
    order, rota, day, leaf = (page(plans, workshop, NOW) for page in (order_page, rota_page, day_page, leaf_page))
    (caution,) = rota.no_picture
    assert caution.shown.startswith("Take no picture of Sitter 1: Sitter 1 is under 18, and no guardian is named.")
    assert caution.shown.endswith(" Down for A.")
    assert caution.told.startswith("Take no picture of model 1: ")
    assert order.no_picture == leaf.no_picture == day.rota.no_picture == (caution,)
    assert [sheet.no_picture is not None for sheet in rota.sheets] == [True, False]
    for page in (order, rota, day, leaf):
        assert "Sitter" not in told(page)


def test_an_attendee_who_stands_in_as_a_model_would_be_in_two_places(plans):
    workshop = keep_running(plans, attendees=4, stations="A")
    with plans.reading() as s:
        ana = people_of(s, workshop)[0]
    keep_station(plans, workshop, name="B", model_id=ana.id)
    for page in (order_page(plans, workshop, NOW), rota_page(plans, workshop, NOW)):
        (caution,) = [each for each in page.no_picture if "two places" in each.shown]
        assert caution.shown.startswith("Ana stands at B as its model and is down for turns too")
        assert caution.told.startswith("Attendee 1 stands at B")
