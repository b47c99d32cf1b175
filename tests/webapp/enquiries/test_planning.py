"""Planning an enquiry: filled in from a workshop or a what-if, refused field by field, nothing half-saved."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest

from models.rules.areas import AreaDraft
from models.store import rules as kept
from models.words.rules import STANDING_NOTE
from tests.webapp.conftest import HOSTILE
from tests.webapp.enquiries.conftest import WORKSHOP, now_kept
from tests.webapp.filled import form_of
from tests.webapp.rules.test_findings import seen
from tests.webapp.streets import square

NEW = "/enquiries/new?workshop=1&area=1"


def filled(client, address=NEW):
    return form_of(client.get(address).text, "/enquiries")


def test_it_is_filled_in_from_the_workshop_and_what_the_area_asks(client, streets):
    form = filled(client)
    assert (form["to_whom"], form["contact"]) == ("Highways office", "https://streets.example/rules")
    assert (form["first_day"], form["last_day"], form["hours"]) == ("2026-10-31", "2026-10-31", "17:00-18:30")
    assert form["people"] == "9"
    asks = {name for name in form if name.startswith("asks_")}
    assert asks == {"asks_flash_held", "asks_group", "asks_teaching", "asks_models"}
    page = seen(client.get(NEW).text)
    # 5 clear working days before Saturday 31 October 2026, weekends only: 26 to 30 October lie between
    assert "Ask by Friday 23 October 2026, in 6 days." in page
    assert "permission needed, more than 6 people. Ask 5 clear working days before." in page
    assert STANDING_NOTE in page


def test_the_activity_of_the_link_is_ticked_whatever_was_found(client, streets):
    assert "asks_stand_held" not in filled(client)
    assert filled(client, f"{NEW}&activity=stand_held")["asks_stand_held"] == "yes"
    assert "asks_nonsense" not in filled(client, f"{NEW}&activity=nonsense")


def test_a_what_if_fills_it_in_too(client, streets):
    form = filled(client, "/enquiries/new?area=1&on=2026-11-14&at=09:00&lasts=60min&group=14&tripod=1&teaching=no")
    assert (form["first_day"], form["hours"], form["people"]) == ("2026-11-14", "09:00-10:00", "14")
    assert form["asks_tripod"] == "yes"
    assert "asks_teaching" not in form


def test_a_spot_is_asked_about_by_whoever_controls_it(client, streets):
    form = filled(client, "/enquiries/new?workshop=1&spot=1")
    assert form["spot"] == "1"
    assert "area" not in form
    assert form["to_whom"] == ""


def test_an_area_that_only_the_walk_crosses_is_asked_about_what_is_carried(client, store, streets):
    with store.writing() as s:
        place = {"name": "Hall", "kind": "private_open", "authority": "Hall steward", "no_passing": True}
        kept.add_area(s, AreaDraft(shape=square(52.5295, 5.2312, 0.0002), **place))
        kept.change_workshop(s, 1, 1, replace(WORKSHOP, meeting_point=(52.529, 5.2312)))
    asks = {name for name in filled(client, "/enquiries/new?workshop=1&area=2") if name.startswith("asks_")}
    assert asks == {"asks_stand_held", "asks_flash_held", "asks_group"}


def test_without_a_place_it_offers_those_of_the_workshop(client, streets):
    page = client.get("/enquiries/new?workshop=1").text
    assert "About which place, for Evening light?" in page
    assert 'href="/enquiries/new?workshop=1&amp;area=1"' in page
    assert 'href="/enquiries/new?workshop=1&amp;spot=1"' in page
    assert "To be asked there: hand-held flash, group of people, paid teaching and models" in seen(page)


def test_from_nothing_it_offers_workshops_and_areas(client, streets):
    page = client.get("/enquiries/new").text
    assert 'href="/enquiries/new?workshop=1"' in page
    assert 'href="/enquiries/new?area=1"' in page


def test_an_empty_town_says_where_to_begin(client):
    page = client.get("/enquiries/new").text
    assert "No rule area is recorded yet." in page


def test_what_was_asked_there_already_is_told(client, planned):
    page = seen(client.get(NEW).text)
    assert "Asked there already" in page
    assert "Asked there already" not in seen(client.get("/enquiries/new?workshop=1&spot=1").text)


def test_it_is_kept_as_typed(client, streets):
    form = filled(client) | {"notes": "ask for Jo's desk", "hours": "5 pm to 18:30"}
    sent = client.send("/enquiries", form)
    assert (sent.status_code, sent.headers["Location"]) == (303, "/enquiries/1")
    enquiry = now_kept(streets)
    assert (enquiry.area_id, enquiry.spot_id, enquiry.workshop_id) == (1, None, 1)
    assert enquiry.activities == ("flash_held", "group", "teaching", "models")
    assert (enquiry.first_day, enquiry.from_time, enquiry.to_time) == (date(2026, 10, 31), time(17), time(18, 30))
    assert (enquiry.state, enquiry.people, enquiry.notes) == ("planned", 9, "ask for Jo's desk")


def test_a_first_day_alone_is_that_day(client, streets):
    client.send("/enquiries", filled(client) | {"last_day": ""})
    assert now_kept(streets).last_day == date(2026, 10, 31)


@pytest.mark.parametrize(
    ("field", "typed", "message"),
    [
        ("to_whom", "  ", "say which office is asked"),
        ("to_whom", "x" * 500, "500 characters"),
        ("first_day", "someday", "is not a date"),
        ("last_day", "2026-10-30", "is before"),
        ("hours", "17:00", "has one end only"),
        ("hours", "late", "late"),
        ("people", "many", "is not a number"),
        ("people", "0", "0 is out of reach"),
        ("contact", "a\x07b", "control character"),
    ],
)
def test_a_bad_field_says_so_and_keeps_what_was_typed(client, streets, field, typed, message):
    sent = client.send("/enquiries", filled(client) | {field: typed, "notes": "mind the trams"})
    assert sent.status_code == 422
    assert message in seen(sent.text)
    assert f'id="{field}-wrong"' in sent.text
    again = form_of(sent.text, "/enquiries")
    assert (again["notes"], again["asks_group"], again["area"]) == ("mind the trams", "yes", "1")
    with streets.reading() as s:
        assert kept.list_enquiries(s) == ()


def test_all_bad_fields_are_named_at_once(client, streets):
    sent = client.send("/enquiries", filled(client) | {"to_whom": "", "first_day": "x", "people": "x"})
    assert sent.text.count('class="wrong"') == 3


@pytest.mark.parametrize(
    "address", ["area=99", "spot=99", "workshop=99&area=1", "workshop=99", "area=999999999999", "spot=1&workshop=0"]
)
def test_what_is_not_there_cannot_be_asked_about(client, streets, address):
    page = client.get(f"/enquiries/new?{address}")
    assert page.status_code in (200, 404)
    if page.status_code == 200:  # a number that nothing can have is no number: the choice is shown
        assert "For which workshop, or about which area?" in page.text


def test_an_enquiry_about_nothing_is_not_kept(client, streets):
    assert client.send("/enquiries", {"to_whom": "Somebody"}).status_code in (404, 422)
    assert client.send("/enquiries", filled(client) | {"area": "99"}).status_code in (404, 422)
    with streets.reading() as s:
        assert kept.list_enquiries(s) == ()


def test_hostile_words_are_text(client, streets):
    form = filled(client) | {"to_whom": HOSTILE, "contact": HOSTILE, "notes": HOSTILE}
    assert client.send("/enquiries", form).status_code == 303
    for address in ("/enquiries/1", "/enquiries", "/enquiries/1/edit", "/enquiries/1/steps/new?state=asked"):
        page = client.get(address).text
        assert "<img src=x" not in page, address
        assert "&lt;img src=x" in page, address


def test_what_is_left_out_of_the_question_is_told_before_it_is_planned(client, streets):
    with streets.writing() as s:
        kept.change_workshop(s, 1, 1, replace(WORKSHOP, doing=replace(WORKSHOP.doing, stand_ground=2)))
    page = client.get(NEW).text
    assert "asks_stand_ground" not in form_of(page, "/enquiries")
    assert "though you plan to bring it: 2 stands on the ground: recorded as not permitted" in seen(page)
    assert "though you plan to bring it" not in seen(client.get(f"{NEW}&activity=stand_ground").text)
