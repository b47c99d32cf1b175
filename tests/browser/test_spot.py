"""The spot page and the times, driven as a reader would: changing words, pointing at the day, facing another way."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import assert_not_reloaded, low_targets, mark, press_map, small_texts

pytestmark = pytest.mark.browser

OPEN_GROUND = (52.5280, 5.2344)
LANE = "/spots/2?on=2026-06-17&at=10:00&sky=0"
ADDRESSES = (
    "/spots/5?on=2026-06-17&at=17:00&looking=90",
    "/spots/2/times?want=shade&from=2026-10-19&to=2026-10-20",
    "/times?from=2026-10-19&to=2026-10-19&least=9",
)


def in_hand(page: Page) -> float:
    """The stops in hand that the answer tells, short ones below zero."""
    said = re.search(r"(?:(\d+\.\d) stops|nothing) (in hand|short)", page.locator(".answer").inner_text())
    assert said, "the answer names no stops"
    return float(said[1] or 0) * (-1 if said[2] == "short" else 1)


def test_the_main_job_end_to_end(page):
    """List and map, another time, another state, a spot pressed on the map, its sentence, its stops, its times."""
    page.goto("/?on=2026-06-21&at=12:00&sky=0")
    expect(page.locator("#map_main canvas").first).to_be_visible()
    state = page.locator("tr", has_text="West Quay").locator(".state")
    before = state.inner_text()
    page.get_by_label("Time").fill("23:30")
    page.get_by_label("Time").press("Enter")
    expect(state).not_to_have_text(before)

    page.get_by_label("Time").fill("10:00")
    page.get_by_label("Time").press("Enter")
    expect(page).to_have_url(re.compile("at=10%3A00"))
    page.wait_for_load_state("networkidle")
    press_map(page, OPEN_GROUND)
    page.wait_for_timeout(800)  # the map slides until the offer is whole in sight
    page.get_by_role("link", name="Add a spot here").click()
    page.wait_for_url("**/spots/new**")
    page.get_by_label("Name", exact=True).fill("Corner of the net loft")
    page.get_by_role("button", name="Keep this spot").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Corner of the net loft")
    expect(page.locator(".loud")).to_contain_text("Not checked")

    far = in_hand(page)
    page.get_by_label("Distance").fill("1 m")
    page.get_by_label("Distance").press("Enter")
    expect(page).to_have_url(re.compile(r"distance=1\b"))
    assert in_hand(page) == pytest.approx(far + 2, abs=0.11)

    best = page.locator(".facing tbody tr").first
    way, stops = best.locator("th a").inner_text(), best.locator("td b").inner_text()
    assert re.fullmatch(r"[+−]\d+\.\d", stops)
    best.locator("th a").click()
    expect(page.locator(".facing .chosen th a")).to_have_text(way)
    expect(page.locator(".answer")).to_contain_text(f"looking {way}")

    opened = page.url
    page.get_by_role("link", name="Times worth booking here").click()
    page.get_by_label("Last day").fill("24 Oct 2026")
    page.get_by_role("button", name="Find times").click()
    expect(page).to_have_url(re.compile(r"/times\?.*to=24\+Oct\+2026"))
    times = page.locator(".times > li")
    expect(times.first).to_be_visible()
    assert 1 <= times.count() <= 20
    expect(page.get_by_label("Distance")).to_have_value("1 m")
    clock = re.search(r"(\d\d:\d\d) to", times.first.locator("a").inner_text())[1]
    times.first.locator("a").click()
    expect(page.get_by_label("Time")).to_have_value(clock)
    expect(page.get_by_label("Distance")).to_have_value("1 m")

    page.goto(opened)
    page.get_by_role("button", name="Delete this spot").click()
    expect(page.get_by_text("Corner of the net loft is deleted")).to_be_visible()
    expect(page.get_by_role("button", name="Undo")).to_be_visible()


def test_a_changed_word_updates_the_page_and_keeps_the_focus(page):
    page.goto(LANE)
    mark(page)
    bare = in_hand(page)
    page.get_by_label("Modifier").focus()
    page.get_by_label("Modifier").select_option("small-box")
    expect(page.locator(".answer")).to_contain_text("with small box, 40 cm")
    assert in_hand(page) == pytest.approx(bare - 2, abs=0.11)
    expect(page.get_by_label("Modifier")).to_be_focused()
    expect(page).to_have_url(re.compile(r"\?on=2026-06-17&at=10%3A00&sky=0&modifier=small-box$"))
    assert_not_reloaded(page)


def test_words_typed_are_said_back_as_they_are_understood(page):
    page.goto(LANE)
    page.get_by_label("Distance").fill("6 ft")
    page.get_by_label("Distance").press("Tab")
    expect(page.get_by_label("Distance")).to_have_value("1.83 m")
    page.get_by_label("Camera bearing").fill("w")
    page.get_by_label("Camera bearing").press("Enter")
    expect(page.get_by_label("Camera bearing")).to_have_value("west")
    expect(page.locator(".facing .chosen")).to_contain_text("west")


def test_a_word_that_cannot_be_read_is_said_beside_it_and_nothing_else_moves(page, watch):
    watch.expected.append("422")
    page.goto(LANE)
    before = page.locator(".answer").inner_text()
    page.get_by_label("Distance").fill("far away")
    page.get_by_label("Distance").press("Enter")
    expect(page.locator(".sentence .wrong")).to_contain_text("is not a distance")
    expect(page.get_by_label("Distance")).to_have_value("far away")
    expect(page.get_by_label("Distance")).to_have_attribute("aria-invalid", "true")
    assert page.locator(".answer").inner_text() == before
    assert "far" not in page.url
    page.get_by_label("Distance").fill("3")
    page.get_by_label("Distance").press("Enter")
    expect(page.locator(".sentence .wrong")).to_have_count(0)
    expect(page.locator(".answer")).to_contain_text("at 3 m")


def test_the_time_moves_and_the_sentence_stays(page):
    page.goto(LANE)
    mark(page)
    page.get_by_label("Distance").fill("3")
    page.get_by_label("Distance").press("Enter")
    expect(page.locator(".answer")).to_contain_text("at 3 m")
    page.get_by_label("Time").fill("11:15")
    page.get_by_label("Time").press("Enter")
    expect(page.locator(".answer")).to_contain_text("11:15 CEST")
    expect(page.locator(".answer")).to_contain_text("at 3 m")
    page.get_by_role("heading", level=1).click()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_label("Time")).to_have_value("11:30")
    expect(page.locator(".answer")).to_contain_text("at 3 m")
    assert_not_reloaded(page)


def test_a_press_on_the_day_goes_there(page):
    page.goto(LANE)
    mark(page)
    drawing = page.locator(".pointed svg.wide-only").first
    drawing.scroll_into_view_if_needed()
    box, units = drawing.bounding_box(), drawing.evaluate("d => ({ ...d.dataset, width: d.viewBox.baseVal.width })")
    scale = box["width"] / float(units["width"])
    noon = float(units["x0"]) + (float(units["x1"]) - float(units["x0"])) / 2
    page.mouse.click(box["x"] + noon * scale, box["y"] + float(units["y1"]) * scale + 5)
    expect(page.get_by_label("Time")).to_have_value("12:00")
    expect(page.locator(".answer")).to_contain_text("17 June 2026, 12:00 CEST")
    assert_not_reloaded(page)


def test_a_press_on_the_year_goes_there(page):
    page.goto(LANE)
    drawing = page.locator(".pointed svg.wide-only").last
    drawing.scroll_into_view_if_needed()
    box, units = drawing.bounding_box(), drawing.evaluate("d => ({ ...d.dataset, width: d.viewBox.baseVal.width })")
    scale = box["width"] / float(units["width"])
    x0, x1, y0, y1 = (float(units[name]) for name in ("x0", "x1", "y0", "y1"))
    sixth_of_february = x0 + (x1 - x0) * 36.5 / 365
    eight = y0 + (y1 - y0) * 8.1 / 24
    page.mouse.click(box["x"] + sixth_of_february * scale, box["y"] + eight * scale)
    expect(page.locator(".answer")).to_contain_text("Friday 6 February 2026, 08:00 CET")


def test_the_year_changes_its_quantity_in_place(page):
    page.goto(LANE)
    mark(page)
    page.get_by_role("link", name="light on the face").click()
    expect(page.locator(".shows [aria-current]")).to_have_text("light on the face")
    expect(page.get_by_role("link", name="light on the face")).to_be_focused()
    expect(page).to_have_url(re.compile("year=ev"))
    page.get_by_role("combobox", name="Sky").select_option("8")
    expect(page).to_have_url(re.compile("sky=8"))
    expect(page.locator(".shows [aria-current]")).to_have_text("light on the face")
    assert_not_reloaded(page)


def test_folded_parts_stay_open_while_the_time_moves(page):
    page.goto(LANE)
    page.get_by_text("The working", exact=True).click()
    formula = page.locator(".formulas li").first
    before = formula.inner_text()
    page.get_by_role("button", name="15 minutes later").click()
    expect(formula).not_to_have_text(before)
    expect(formula).to_be_visible()


@pytest.mark.parametrize("address", ADDRESSES)
def test_pages_keep_the_rules_of_access_and_fit_a_phone(page, assert_sound, address):
    page.goto(address)
    page.evaluate("document.querySelectorAll('details').forEach(fold => fold.open = true)")
    assert_sound(page)
    assert low_targets(page, "[type=checkbox], .crumb, .unseen") == []
    assert small_texts(page) == []


def test_the_sentence_works_without_script(browser, base_url, watch):
    context = browser.new_context(java_script_enabled=False, base_url=base_url)
    page = context.new_page()
    page.goto(LANE)
    page.get_by_label("Distance").fill("10 ft")
    page.locator(".words").get_by_role("button", name="Show").click()
    expect(page.get_by_label("Distance")).to_have_value("3.05 m")
    expect(page.get_by_label("Time")).to_have_value("10:00")
    page.get_by_label("Distance").fill("far")
    page.locator(".words").get_by_role("button", name="Show").click()
    expect(page.get_by_label("Distance")).to_have_value("far")
    expect(page.locator(".sentence .wrong")).to_contain_text("is not a distance")
    context.close()


def test_print_keeps_the_answer_and_leaves_the_controls_out(page):
    page.goto(LANE)
    page.emulate_media(media="print")
    expect(page.locator(".answer")).to_be_visible()
    expect(page.get_by_label("Distance")).to_be_visible()
    expect(page.get_by_role("button", name="Delete this spot")).to_be_hidden()
    expect(page.get_by_role("link", name="Change this spot")).to_be_hidden()
    assert page.locator("svg.wide-only").first.is_visible()
