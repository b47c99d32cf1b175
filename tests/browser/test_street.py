"""The street's pages as an organiser meets them: counting, then reading the answer for that hour."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

PAGES = ("/spots/1/counts?on=2026-10-17&at=15:00", "/spots/2/counts?on=2026-10-18&at=17:00", "/spots/2/counts/13/edit",
         "/spots/1/counts/import", "/spots/1/width?on=2026-10-17&at=15:00", "/spots/8/width?on=2026-10-17&at=15:00",
         "/spots/9/width", "/workshops/1/hazards")  # fmt: skip


@pytest.mark.parametrize("address", PAGES)
def test_pages_keep_the_rules_of_access_and_fit_a_phone(page, assert_sound, address):
    page.goto(address)
    assert_sound(page)


def test_ten_minutes_of_counting_answer_for_that_hour(page):
    page.goto("/spots/2/counts?on=2026-10-18&at=17:00")
    expect(page.locator(".answer")).to_contain_text("not counted")
    page.get_by_label("How many").fill("20")
    page.get_by_label("Day", exact=True).last.fill("11 Oct 2026")
    page.get_by_label("From").fill("17:05")
    page.get_by_label("Who counted").fill("Ida")
    page.get_by_role("button", name="Keep this count").click()
    expect(page.get_by_role("status").first).to_have_text("The count is kept.")
    expect(page.locator(".answer")).to_contain_text("people an hour, 80 % between")
    page.get_by_label("Share that crosses the line").fill("none")
    page.get_by_label("Share that crosses the line").press("Enter")
    expect(page.locator(".answer")).to_contain_text("you wait under a second")
    page.get_by_role("button", name="Delete the count of Sunday 11 October 2026, 17:05 CEST").click()
    expect(page.locator(".answer")).to_contain_text("not counted")
    expect(page.get_by_role("button", name="Undo")).to_be_visible()


def test_a_hazards_sheet_is_filled_in_and_printed(page):
    page.goto("/workshops/2/hazards")
    expect(page.locator(".answer")).to_contain_text("nothing of this sheet is kept yet")
    page.get_by_label("Emergency number").fill("112")
    page.get_by_label("Gusts").fill("40 km/h")
    page.locator("summary", has_text="Lightning").click()
    page.get_by_label("Seen to").locator("visible=true").check()
    page.get_by_role("button", name="Keep the sheet").click()
    expect(page.get_by_role("status").first).to_have_text("The hazards sheet is kept.")
    expect(page.locator(".hazards")).to_contain_text("gusts of 11.1 m/s")
    expect(page.locator(".hazards").get_by_text("Seen to", exact=True)).to_have_count(1)
    page.emulate_media(media="print")
    expect(page.get_by_role("button", name="Keep the sheet")).to_be_hidden()
    expect(page.locator(".hazards li").first).to_be_visible()
    page.emulate_media(media="screen")
    page.get_by_role("button", name="Start again from the usual lines").click()
    expect(page.locator(".answer")).to_contain_text("nothing of this sheet is kept yet")
