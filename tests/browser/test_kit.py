"""The kit, as an organiser would use it: measure a flash, change a piece, look into a file before it is kept."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import SENTENCES, assert_not_reloaded, low_targets, mark, small_texts

pytestmark = pytest.mark.browser

MEASURE = "/kit/flashes/round/readings"
FILE = 'name,stops\nsix stops,6\n"neutral density, one stop",1 1/3\nbad,lots\n'
ADDRESSES = ("/kit", "/kit/flashes/small/edit", "/kit/gels/new", "/kit/import", f"{MEASURE}?read=f/13")


def look(page: Page) -> None:
    page.goto("/kit/import")
    page.get_by_label("What it lists").select_option("filters")
    page.get_by_label("File").set_input_files({"name": "f.csv", "mimeType": "text/csv", "buffer": FILE.encode()})
    page.get_by_role("button", name="Look what is in it").click()
    expect(page.locator(".file-rows")).to_be_visible()
    page.wait_for_load_state()


def test_a_reading_is_worked_out_in_place_kept_and_taken_back(page):
    page.goto(MEASURE)
    mark(page)
    page.get_by_label("What it read, as an aperture").fill("f/12")
    page.get_by_label("What it read, as an aperture").press("Enter")
    expect(page.locator(".answer")).to_contain_text("guide number of 24.0 m at 28 mm: 0.2 stop under the 26 m")
    page.get_by_label("Distance to the meter").fill("6 ft")
    page.get_by_label("Distance to the meter").press("Tab")
    expect(page.locator(".answer")).to_contain_text("guide number of 21.9 m")
    expect(page).to_have_url(re.compile(r"from=6"))
    assert_not_reloaded(page)
    page.get_by_role("button", name="Keep this reading").click()
    expect(page.locator(".answer")).to_contain_text("Metered: guide number 21.9 m at 28 mm")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(".readings li")).to_have_count(0)


def test_a_word_that_cannot_be_read_takes_the_figure_away(page, watch):
    watch.expected.append("422")
    page.goto(f"{MEASURE}?read=f/12")
    mark(page)
    page.get_by_label("Distance to the meter").fill("0 m")
    page.get_by_label("Distance to the meter").press("Tab")
    expect(page.locator(".answer")).to_contain_text("No figure yet")
    expect(page.get_by_role("button", name="Keep this reading")).to_have_count(0)
    page.get_by_label("Distance to the meter").fill("2 m")
    page.get_by_label("Distance to the meter").press("Tab")
    expect(page.locator(".answer")).to_contain_text("guide number of 24.0 m")
    assert_not_reloaded(page)


def test_a_file_is_looked_into_before_it_is_kept(page):
    look(page)
    expect(page.locator(".answer")).to_contain_text("1 new, 1 changed, 1 refused. Nothing is kept yet.")
    page.get_by_role("button", name="Keep these 2 rows").click()
    expect(page.locator(".notice")).to_contain_text("1 filter added, 1 changed.")
    expect(page.locator("#filters")).to_be_in_viewport()
    page.get_by_role("link", name="six stops", exact=True).click()
    page.get_by_role("button", name="Retire six stops").click()
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("link", name="six stops", exact=True)).to_be_visible()


@pytest.mark.parametrize("address", [*ADDRESSES, "looked into"])
def test_every_kit_page_is_sound_at_both_widths(page, address, watch, assert_sound):
    watch.expected.append("422")
    look(page) if address == "looked into" else page.goto(address)
    assert_sound(page)
    for width in (375, 1280):
        page.set_viewport_size({"width": width, "height": 900})
        assert low_targets(page, SENTENCES) == []
        assert small_texts(page) == []
