"""Rules driven as an organiser would: drawing an area corner by corner, recording a rule, pressing the map."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import low_targets, press_map
from tests.models.planning.rules.town import HOSTILE, area, square

pytestmark = pytest.mark.browser

PAGES = ("/rules", "/rules/areas/3", "/rules/areas/new", "/rules/areas/1/edit", "/rules/new?area=1", "/rules/1/edit",
         "/rules/import")  # fmt: skip
LOW_MAY_BE = ".leaflet-control-attribution, .unseen, .facts, .crumb, .name, .choice, h2"
CORNERS = ([52.5308, 5.2330], [52.5312, 5.2334], [52.5308, 5.2338], [52.5305, 5.2334])


def map_ready(page: Page) -> None:
    page.wait_for_load_state("networkidle")


@pytest.mark.parametrize("address", PAGES)
def test_pages_keep_the_rules_of_access_and_fit_a_phone(page, assert_sound, address):
    page.goto(address)
    assert_sound(page)
    assert low_targets(page, LOW_MAY_BE, "main :is(a, button, input, select)") == []


def test_an_area_is_drawn_by_pressing_its_corners_and_gets_a_rule(page):
    page.goto("/rules/areas/new")
    map_ready(page)
    corners = page.get_by_role("textbox", name="Corners")
    for number, place in enumerate(CORNERS, start=1):
        press_map(page, place)
        expect(corners).to_have_value(re.compile(rf"^(52\.53\d+, 5\.23\d+\n){{{number}}}$"))
    page.get_by_role("button", name="Take back the last corner").click()
    expect(corners).to_have_value(re.compile(r"^(52\.53\d+, 5\.23\d+\n){3}$"))
    press_map(page, CORNERS[3])
    press_map(page, CORNERS[0])
    expect(corners).to_have_value(re.compile(r"^(52\.53\d+, 5\.23\d+\n){4}\n$"))
    page.get_by_label("Name", exact=True).fill("Bell yard")
    page.get_by_label("Kind of control").select_option("private_consent")
    page.get_by_label("Authority").fill("Bell founders")
    page.get_by_role("button", name="Keep this area").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Bell yard")
    expect(page.locator(".answer")).to_have_text("Nothing is recorded for Bell yard yet: ask Bell founders.")

    page.get_by_role("link", name="Record a rule").click()
    page.get_by_label("paid teaching").check()
    page.get_by_label("permission needed").check()
    page.get_by_label("Ask so long before").fill("10 working days")
    page.get_by_label("Somebody told me on the spot").check()
    page.get_by_role("button", name="Keep this rule").click()
    record = page.locator(".record")
    expect(record).to_contain_text("Paid teaching: permission needed, ask 10 clear working days before")
    expect(record).to_contain_text("Somebody told it on the spot")
    expect(page.locator(".answer")).to_contain_text("1 was only told on the spot")

    delete_shown_area(page)
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Bell yard")
    expect(page.locator(".record")).to_have_count(1)
    delete_shown_area(page)


def delete_shown_area(page: Page) -> None:
    page.get_by_role("link", name="Change this area").click()
    page.get_by_role("button", name="Delete Bell yard").click()
    expect(page.get_by_role("status").first).to_contain_text("Bell yard is deleted")


def test_a_second_piece_begins_after_the_first_is_closed(page):
    page.goto("/rules/areas/new")
    map_ready(page)
    corners = page.get_by_role("textbox", name="Corners")
    corners.fill("52.5308, 5.2330\n52.5312, 5.2334\n52.5308, 5.2338")
    page.get_by_role("button", name="Close the piece").click()
    expect(corners).to_have_value(re.compile(r"5\.2338\n\n$"))
    press_map(page, [52.5300, 5.2330])
    expect(corners).to_have_value(re.compile(r"5\.2338\n\n52\.5\d+, 5\.23\d+\n$"))
    page.get_by_role("button", name="Take back the last corner").click()
    page.get_by_role("button", name="Take back the last corner").click()
    expect(corners).to_have_value("52.5308, 5.2330\n52.5312, 5.2334\n")


def test_what_is_typed_is_drawn(page):
    page.goto("/rules/areas/new")
    map_ready(page)
    drawn = """() => { let shapes = 0;
        window.map_main.eachLayer(l => (shapes += l.options.pane === 'markerPane' && Boolean(l.redraw)));
        return shapes }"""
    before = page.evaluate(drawn)
    page.get_by_role("textbox", name="Corners").fill("52.5308, 5.2330\n52.5312, 5.2334\nnonsense\n52.5308, 5.2338\n")
    assert page.evaluate(drawn) - before == 4, "three corners and the piece"


def test_an_area_can_be_typed_without_script(browser, base_url, watch):
    context = browser.new_context(java_script_enabled=False, base_url=base_url)
    page = context.new_page()
    page.goto("/rules/areas/new")
    expect(page.get_by_role("button", name="Close the piece")).to_be_hidden()
    page.get_by_label("Name", exact=True).fill("Bell yard")
    page.get_by_label("Authority").fill("Bell founders")
    page.get_by_role("textbox", name="Corners").fill("52.5308, 5.2330\n52.5312, 5.2334\n52.5308, 5.2338")
    page.get_by_role("button", name="Keep this area").click()
    expect(page.locator("main")).to_contain_text("3 corners, about")
    delete_shown_area(page)
    context.close()


def test_a_refused_rule_leads_to_its_field(page, watch):
    watch.expected.append("422")
    page.goto("/rules/new?area=1")
    page.get_by_text("More: hours, days, fee, insurance").click()
    page.get_by_label("Only in these hours").fill("8")
    page.get_by_role("button", name="Keep this rule").click()
    expect(page.get_by_role("alert")).to_contain_text("fields need another look")
    page.get_by_role("alert").get_by_role("link", name="has one end only").click()
    assert page.url.endswith("#hours")
    expect(page.get_by_label("Only in these hours")).to_be_visible()


def test_pressing_the_map_names_all_areas_there(page):
    page.goto("/rules")
    map_ready(page)
    press_map(page, [52.529865, 5.22963])
    popup = page.locator(".leaflet-popup-content").last
    expect(popup.get_by_role("link")).to_have_text(["Market ground", "Old town streets"])
    expect(popup).to_contain_text("public street; Havenmark town council, market office")
    popup.get_by_role("link", name="Market ground").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Market ground")


def test_areas_on_the_list_of_spots_come_when_asked_for(page):
    page.goto("/?on=2026-06-21&at=12:00&sky=0")
    page.wait_for_load_state("networkidle")
    expect(page.locator("#areas-key")).to_be_hidden()
    page.locator(".leaflet-control-layers").hover()
    switch = page.get_by_role("checkbox", name="Rule areas")
    expect(switch).not_to_be_checked()
    switch.check()
    page.wait_for_function("() => window.feature_group_areas.getLayers().some(drawn => drawn.getLayers().length)")
    expect(page.locator("#areas-key")).to_be_visible()
    press_map(page, [52.5285, 5.2290])
    popup = page.locator(".leaflet-popup-content").last
    expect(popup.get_by_role("link", name="Old town streets")).to_be_visible()
    expect(popup.get_by_role("link", name="Add a spot here")).to_be_visible()


def test_a_hostile_area_is_text_in_list_and_map(page, town):
    from models.planning.rules.areas import add_area, delete_area
    from tests.browser.conftest import NOW

    store = town.extensions["kerbstand"]
    hostile = add_area(store, area(name=HOSTILE, authority=HOSTILE, shape=square(52.5304, 5.2340, 0.0008)))
    page.goto("/rules")
    map_ready(page)
    expect(page.locator(".areas .name", has_text="onerror")).to_have_text(HOSTILE)
    press_map(page, [52.5310, 5.2345])
    expect(page.locator(".leaflet-popup-content a", has_text="onerror")).to_have_text(HOSTILE)
    assert page.title() == "Rules · Kerbstand"
    delete_area(store, hostile.id, hostile.version, now=NOW)
