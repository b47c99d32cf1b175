"""Other ways of reading: no script, a phone, dark paper, a screen reader's rules."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.looking import low_targets, small_texts

pytestmark = pytest.mark.browser

PAGES = ("/?on=2026-10-17&at=16:40", "/spots/new?place=52.5304,5.2316", "/spots/1/edit", "/settings")


@pytest.mark.parametrize("address", PAGES)
def test_pages_keep_the_rules_of_access_and_fit_a_phone(page, assert_sound, address):
    page.goto(address)
    assert_sound(page)


def test_an_error_page_keeps_them_too(page, watch, assert_accessible):
    watch.expected.append("404")
    page.goto("/nowhere")
    assert_accessible(page)


def test_a_refused_form_leads_to_the_field(page, watch, assert_accessible):
    watch.expected.append("422")
    page.goto("/spots/new")
    page.get_by_label("Name", exact=True).fill("Nowhere")
    page.get_by_label("Coordinates").fill("95, 5")
    page.get_by_role("button", name="Keep this spot").click()
    expect(page.get_by_role("alert")).to_contain_text("is not a latitude")
    page.get_by_role("alert").get_by_role("link").click()
    assert page.url.endswith("#place")
    expect(page.get_by_label("Coordinates")).to_have_value("95, 5")
    assert_accessible(page)


def test_touch_targets_and_text_are_large_enough(page):
    page.set_viewport_size({"width": 375, "height": 740})
    page.goto(PAGES[0])
    low_may_be = ".leaflet-control-attribution, .skip, .unseen, .name"
    assert low_targets(page, low_may_be, "a, button, input, select, summary") == []
    assert small_texts(page, "main *, header *, .bar *") == []


def test_the_list_works_without_script(browser, base_url, watch):
    context = browser.new_context(java_script_enabled=False, base_url=base_url)
    page = context.new_page()
    page.goto("/?on=2026-06-21&at=12:00")
    page.get_by_label("Time").fill("1 pm")
    page.get_by_role("button", name="Show", exact=True).last.click()
    expect(page.get_by_label("Time")).to_have_value("13:00")
    page.get_by_role("button", name="15 minutes later").click()
    expect(page.get_by_label("Time")).to_have_value("13:15")
    page.get_by_label("Time").fill("14:00")
    page.get_by_label("Time").press("Enter")
    expect(page.get_by_label("Time")).to_have_value("14:00")
    assert page.locator(".spots tbody tr").count() >= 10
    context.close()


def test_the_readers_own_paper_is_kept(page):
    page.emulate_media(color_scheme="light")
    page.goto("/settings")
    light = page.evaluate("getComputedStyle(document.body).backgroundColor")
    page.get_by_role("button", name="dark", exact=True).click()
    expect(page.locator("html")).to_have_attribute("data-theme", "dark")
    page.goto("/")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") != light
    page.get_by_role("button", name="as the device").click()
    expect(page.locator("html")).to_have_attribute("data-theme", "auto")


def test_on_glass_one_finger_scrolls_and_two_move_the_map(browser, base_url, watch):
    context = browser.new_context(
        base_url=base_url, has_touch=True, is_mobile=True, viewport={"width": 375, "height": 740}
    )
    page = context.new_page()
    page.goto(PAGES[0])
    page.wait_for_load_state("networkidle")
    assert not page.evaluate("window.map_main.dragging.enabled()")
    assert "pan" in page.evaluate("getComputedStyle(document.getElementById('map_main')).touchAction")
    expect(page.locator("#map-say")).to_contain_text("Two fingers")
    context.close()


def test_print_leaves_the_controls_out(page):
    page.goto(PAGES[0])
    page.emulate_media(media="print")
    expect(page.get_by_role("link", name="Settings")).to_be_hidden()
    expect(page.locator(".answer")).to_be_visible()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
