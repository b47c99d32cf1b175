"""Setups driven as a teacher would: from a spot to a setup, a light moved, powers taken, the cards printed."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.looking import low_targets

pytestmark = pytest.mark.browser

AT = "spot=2&on=2026-10-17&at=17%3A20&sky=2"
PAGES = ("/setups", "/setups/new", "/setups/5", f"/setups/4?{AT}", "/setups/4/edit", f"/setups/4/when?{AT}",
         f"/setups/4/card?{AT}", "/setups/2?ev=9.5&behind=10")  # fmt: skip


@pytest.mark.parametrize("address", PAGES)
def test_pages_keep_the_rules_of_access_and_fit_a_phone(page, assert_sound, address):
    page.goto(address)
    assert_sound(page)
    assert low_targets(page, ".unseen, .crumb, .facts, p, h2", "main :is(a, button, input, select)") == []


def test_from_a_spot_to_a_setup_in_its_light_and_a_light_moved(page):
    page.goto("/spots/2?on=2026-10-17&at=17%3A20&sky=2")
    page.get_by_role("link", name="Set up lights here").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Setups")
    page.get_by_role("link", name="Strip key with edge").click()
    expect(page.locator(".answer")).to_contain_text("Foundry Lane is in open shade")
    expect(page.locator("svg.wide-only").first).to_contain_text("key, half past 2")
    edge = page.get_by_role("form", name="Move the edge")
    edge.get_by_role("button", name="more left").click()
    expect(page.locator("svg.wide-only").first).to_contain_text("edge, 7 o'clock")
    expect(page).to_have_url(re.compile(r"at=17(%3A|:)20.*#plan$"))
    page.get_by_role("form", name="Move the edge").get_by_role("button", name="more right").click()
    expect(page.locator("svg.wide-only").first).to_contain_text("edge, half past 7")


def test_the_bar_steps_the_time_and_the_setup_follows(page):
    page.goto(f"/setups/6?{AT}")
    before = page.locator(".answer").inner_text()
    page.get_by_role("button", name="15 minutes later").click()
    expect(page.locator(".answer")).to_contain_text("17:35")
    assert page.locator(".answer").inner_text() != before
    expect(page).to_have_url(re.compile("spot=2"))


def test_powers_are_taken_with_one_press_and_the_cards_say_them(page):
    page.goto(f"/setups/3?{AT}")
    page.get_by_role("button", name="Take these powers").click()
    expect(page.get_by_text("are kept with the setup now")).to_be_visible()
    expect(page.get_by_role("button", name="Take these powers")).to_have_count(0)
    page.get_by_role("link", name="Dial cards").click()
    expect(page.locator(".dial-card")).to_have_count(3)
    page.emulate_media(media="print")
    expect(page.get_by_role("button", name="Show")).to_have_count(0)


def test_without_script_everything_still_works(browser, base_url):
    context = browser.new_context(base_url=base_url, java_script_enabled=False)
    page = context.new_page()
    page.goto("/setups/1")
    page.get_by_label("EV on the face").fill("9.5")
    page.get_by_role("button", name="Show").click()
    expect(page.locator(".answer")).to_contain_text("Typed in: EV 9.5")
    page.get_by_role("button", name="nearer").first.click()
    expect(page.locator(".answer")).to_contain_text("EV 9.5")
    context.close()
