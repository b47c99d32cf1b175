"""The what-if and workshops, driven as an organiser would: change a word, keep it, read what is open, ask a guard."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import SENTENCES, assert_not_reloaded, low_targets, mark, small_texts

pytestmark = pytest.mark.browser

SQUARE = "/spots/7/rules?on=2026-11-14&at=17:00"
ADDRESSES = (
    f"{SQUARE}&stand_ground=3&group=14&fallback=1&meet=52.528800,5.227500",
    "/spots/2/rules?on=2026-11-14&at=17:00&group=many",
    "/workshops",
    "/workshops/1",
    "/workshops/1/edit",
    "/workshops/new?spot=7&on=2026-11-14&at=17:00",
)


def glance(page: Page, thing: str):
    return page.locator(".glance li", has_text=thing)


def test_a_word_changes_what_is_found_in_place(page):
    page.goto(SQUARE)
    mark(page)
    expect(glance(page, "stand on the ground")).to_have_count(0)
    page.get_by_label("Stands on the ground", exact=True).fill("2")
    page.get_by_label("Stands on the ground", exact=True).press("Enter")
    expect(glance(page, "2 stands on the ground")).to_contain_text("permission needed")
    expect(page.get_by_label("Stands on the ground", exact=True)).to_have_value("2 stands")
    expect(page.get_by_label("Stands on the ground", exact=True)).to_be_focused()
    expect(page).to_have_url(re.compile(r"stand_ground=2$"))
    expect(page.locator("#activity-stand_ground")).to_contain_text("Who")
    page.get_by_label("Teaching", exact=True).select_option("no")
    expect(glance(page, "Paid teaching")).to_have_count(0)
    page.get_by_label("Packed up at").fill("2 h")
    page.get_by_label("Packed up at").press("Tab")
    expect(page.locator(".answer")).to_contain_text("17:00 to 19:00 CET")
    page.get_by_role("button", name="15 minutes later").click()
    expect(page.locator(".answer")).to_contain_text("17:15 to 19:15 CET")
    expect(glance(page, "2 stands on the ground")).to_have_count(1)
    assert_not_reloaded(page)


def test_a_word_that_cannot_be_read_is_said_beside_it(page, watch):
    watch.expected.append("422")
    page.goto(SQUARE)
    before = page.locator(".answer").inner_text()
    page.locator(".what-if summary").click()
    page.get_by_label("Width left for walkers", exact=True).fill("narrow")
    page.get_by_label("Width left for walkers", exact=True).press("Enter")
    expect(page.locator(".what-if .wrong")).to_contain_text("is not a width")
    expect(page.get_by_label("Width left for walkers", exact=True)).to_have_attribute("aria-invalid", "true")
    expect(page.locator(".answer")).to_have_text(before)
    page.get_by_label("Width left for walkers", exact=True).fill("6 ft")
    page.get_by_label("Width left for walkers", exact=True).press("Enter")
    expect(page.locator(".what-if .wrong")).to_have_count(0)
    expect(page.get_by_label("Width left for walkers", exact=True)).to_have_value("1.83 m")


def test_from_a_spot_to_a_workshop_and_what_is_open(page):
    page.goto("/spots/7?on=2026-11-14&at=17:00")
    page.get_by_role("link", name=re.compile("What must be asked here")).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("What if, at Market Square, by the pump")
    page.get_by_label("Stands on the ground", exact=True).fill("2")
    page.get_by_label("Stands on the ground", exact=True).press("Enter")
    expect(page.locator(".answer")).to_contain_text("2 stands on the ground")
    page.locator(".what-if summary").click()
    page.get_by_label("Fallback", exact=True).fill("Town Hall Arcade")
    page.get_by_label("Fallback", exact=True).press("Enter")
    expect(page.get_by_text("Same guard: no fallback.")).to_be_visible()
    page.get_by_role("link", name="Keep as a workshop").click()
    expect(page.get_by_label("Spot", exact=True)).to_have_value("Market Square, by the pump")
    expect(page.get_by_label("Stands on the ground", exact=True)).to_have_value("2")
    page.get_by_label("Title", exact=True).fill("Pump at dusk")
    page.get_by_role("button", name="Keep this workshop").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Pump at dusk")
    expect(page.locator(".answer")).to_contain_text("things open")
    first = page.locator(".still-open > li").first
    for part in ("Owed by", "If it stays open"):
        expect(first).to_contain_text(part)
    expect(page.locator(".still-open")).to_contain_text("Same guard, no fallback")
    page.get_by_role("button", name="Call it off").click()
    expect(page.locator(".loud").first).to_contain_text("Called off.")
    page.get_by_role("button", name="Put it on again").click()
    expect(page.get_by_text("Pump at dusk is on again.")).to_be_visible()
    page.get_by_role("button", name="Delete it").click()
    expect(page.get_by_text("Pump at dusk is deleted.")).to_be_visible()
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Pump at dusk")
    page.get_by_role("button", name="Delete it").click()
    expect(page.get_by_text("Pump at dusk is deleted.")).to_be_visible()


def test_a_guard_says_no_and_it_is_taken_back(page):
    page.goto("/spots/10/rules?on=2026-11-14&at=17:00&group=12")
    said = page.get_by_role("form", name="Told about a group of 12 people")
    said.get_by_role("button", name="No", exact=True).click()
    expect(page.get_by_text("Kept as told on the spot")).to_be_visible()
    expect(glance(page, "A group of 12 people")).to_contain_text("recorded as not permitted")
    expect(page.locator("#activity-group")).to_contain_text("said on the spot on Saturday 17 October 2026")
    expect(page).to_have_url(re.compile(r"group=12$"))
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("What was told is taken back.")).to_be_visible()
    expect(page.locator("#activity-group")).not_to_contain_text("said on the spot")


def test_the_what_if_works_without_script(browser, base_url, watch):
    context = browser.new_context(java_script_enabled=False, base_url=base_url)
    page = context.new_page()
    page.goto(SQUARE)
    page.get_by_label("People, everybody counted").fill("fourteen")
    page.locator(".what-if").get_by_role("button", name="Show").click()
    expect(page.locator(".what-if .wrong")).to_contain_text("is not a number")
    page.get_by_label("People, everybody counted").fill("14 people")
    page.locator(".what-if").get_by_role("button", name="Show").click()
    expect(page.locator(".answer")).to_contain_text("a group of 14 people")
    expect(page.get_by_label("Time", exact=True)).to_have_value("17:00")
    context.close()


@pytest.mark.parametrize("address", ADDRESSES)
def test_pages_keep_the_rules_of_access_and_fit_a_phone(page, watch, assert_sound, address):
    watch.expected.append("422")
    page.goto(address)
    page.evaluate("document.querySelectorAll('details').forEach(fold => fold.open = true)")
    assert_sound(page)
    assert low_targets(page, SENTENCES) == []
    assert small_texts(page) == []
