"""The list and its map, driven as a reader would: typing, stepping, pressing, on a desk and on a phone."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import assert_not_reloaded, mark, press_map

pytestmark = pytest.mark.browser

NOON = "/?on=2026-06-21&at=12:00&sky=0"


def states(page: Page) -> list[str]:
    return page.locator(".spots .state").all_inner_texts()


def settle(page: Page) -> None:
    """Wait until no spot is still being worked out."""
    expect(page.locator("[data-again]")).to_have_count(0, timeout=30_000)


def test_moving_the_time_changes_states_and_shadows_without_a_reload(page):
    page.goto(NOON)
    settle(page)
    mark(page)
    before, answer = states(page), page.locator(".answer").inner_text()
    with page.expect_response(lambda r: "/map/shadows.geojson" in r.url and "at=23%3A30" in r.url) as shadows:
        page.get_by_label("Time").fill("23.30")
        page.get_by_label("Time").press("Enter")
    expect(page.locator(".answer")).not_to_have_text(answer)
    assert states(page) != before
    assert not any("in the sun" in state for state in states(page))
    assert shadows.value.json()["features"] == []
    expect(page.get_by_label("Time")).to_have_value("23:30")
    expect(page).to_have_url(re.compile(r"on=2026-06-21&at=23%3A30"))
    assert_not_reloaded(page)


def test_shadows_follow_the_morning(page):
    page.goto("/?on=2026-06-21&at=08:00&sky=0")
    with page.expect_response(lambda r: "/map/shadows.geojson" in r.url and "at=08%3A15" in r.url) as later:
        page.get_by_role("button", name="15 minutes later").click()
    assert later.value.json()["features"]


def test_steps_pressed_fast_all_count(page):
    page.goto(NOON)
    settle(page)
    page.get_by_label("Time").focus()
    for _ in range(6):
        page.keyboard.press("ArrowUp")
    expect(page.get_by_label("Time")).to_have_value("13:30")
    page.keyboard.press("ArrowDown")
    expect(page.get_by_label("Time")).to_have_value("13:15")
    expect(page.get_by_label("Time")).to_be_focused()


def test_arrows_step_when_nothing_has_the_focus(page):
    page.goto(NOON)
    settle(page)
    page.keyboard.press("ArrowRight")
    expect(page.get_by_label("Time")).to_have_value("12:15")
    page.keyboard.press("ArrowLeft")
    expect(page.get_by_label("Time")).to_have_value("12:00")
    page.get_by_label("Day").focus()
    page.keyboard.press("ArrowRight")
    expect(page.get_by_label("Time")).to_have_value("12:00")


def test_turning_points_are_links_in_place(page):
    page.goto(NOON)
    mark(page)
    link = page.locator(".turns a", has_text="sunset")
    clock = link.locator(".figure").inner_text()
    link.click()
    expect(page.get_by_label("Time")).to_have_value(clock)
    assert_not_reloaded(page)


def test_the_sky_changes_the_light(page):
    page.goto(NOON)
    settle(page)
    bright = page.locator(".spots .big").first.inner_text()
    page.get_by_role("combobox", name="Sky").select_option("8")
    expect(page).to_have_url(re.compile("sky=8"))
    expect(page.locator(".spots .big").first).not_to_have_text(bright)
    expect(page.get_by_role("combobox", name="Sky")).to_have_value("8")
    page.get_by_role("button", name="15 minutes later").click()
    expect(page.get_by_label("Time")).to_have_value("12:15")
    expect(page.get_by_role("combobox", name="Sky")).to_have_value("8")


def test_a_bad_time_is_said_and_nothing_else_moves(page, watch):
    watch.expected.append("422")
    page.goto(NOON)
    settle(page)
    before = states(page)
    page.get_by_label("Time").fill("25:00")
    page.get_by_label("Time").press("Enter")
    expect(page.get_by_role("alert")).to_contain_text("Hours run to 23")
    expect(page.get_by_label("Time")).to_have_value("25:00")
    assert states(page) == before
    assert "at=12:00" in page.url


def test_sorting_keeps_the_focus(page):
    page.goto(NOON)
    settle(page)
    page.get_by_role("link", name="Brightness").focus()
    page.keyboard.press("Enter")
    expect(page.locator("th[aria-sort]")).to_have_text("Brightness")
    expect(page.get_by_role("link", name="Brightness")).to_be_focused()
    figures = [float(text) for text in page.locator("td:nth-child(2) .big").all_inner_texts()]
    assert figures == sorted(figures, reverse=True)


def test_pressing_the_map_adds_a_spot_there_and_deleting_it_can_be_undone(page):
    page.goto(NOON)
    page.wait_for_load_state("networkidle")
    page.locator("#map_main").click(position={"x": 250, "y": 120})
    page.get_by_role("link", name="Add a spot here").click()
    expect(page.get_by_label("Coordinates")).to_have_value(re.compile(r"^52\.5\d{5}, 5\.2\d{5}$"))
    page.get_by_label("Name", exact=True).fill("Corner by the net loft")
    page.get_by_role("button", name="Keep this spot").click()
    expect(page).to_have_url(re.compile(r"/spots/\d+\?on=2026-06-21&at=12:00&sky=0$"))
    name = page.get_by_role("link", name="Corner by the net loft")
    delete_shown(page)
    expect(page.get_by_role("status").first).to_contain_text("Corner by the net loft is deleted.")
    expect(name).to_have_count(0)
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Corner by the net loft")
    delete_shown(page)
    expect(name).to_have_count(0)


def delete_shown(page: Page) -> None:
    page.goto(re.sub(r"/spots/(\d+).*", r"/spots/\1/edit", page.url))
    page.get_by_role("button", name=re.compile("^Delete")).click()


def test_the_maps_centre_goes_into_the_form(page):
    page.goto(NOON)
    page.wait_for_load_state("networkidle")
    page.get_by_role("link", name="Add a spot at the map's centre").click()
    expect(page.get_by_label("Coordinates")).to_have_value(re.compile(r"^52\.5\d+, 5\.2\d+$"))


def test_a_spot_on_the_map_says_its_state_in_words(page):
    page.goto(NOON)
    settle(page)
    page.wait_for_load_state("networkidle")
    name = page.locator(".spots .name").first.inner_text()
    row = page.locator("[data-lat]").first
    place = [float(row.get_attribute(f"data-{axis}")) for axis in ("lat", "lon")]
    press_map(page, place)
    popup = page.locator(".leaflet-popup-content").last  # the one before it may still be fading
    expect(popup).to_contain_text(name)
    expect(popup).to_contain_text(page.locator(".spots .state").first.inner_text().split(",")[0])
    page.get_by_label("Time").fill("23:30")
    page.get_by_label("Time").press("Enter")
    expect(popup).to_contain_text(re.compile("dark|lamps"))
    expect(popup).to_contain_text(name)


def test_layers_can_be_put_away(page):
    page.goto(NOON)
    page.wait_for_load_state("networkidle")
    shapes = "() => window.feature_group_buildings.getLayers()[0].getLayers().length"
    assert page.evaluate(shapes) > 100
    page.locator(".leaflet-control-layers").hover()
    expect(page.get_by_label("Buildings")).to_be_checked()
    page.get_by_label("Buildings").uncheck()
    assert not page.evaluate("window.map_main.hasLayer(window.feature_group_buildings)")


def test_distance_only_when_asked_for(page, context):
    context.grant_permissions(["geolocation"])
    context.set_geolocation({"latitude": 52.5304, "longitude": 5.2316})
    page.goto(NOON)
    settle(page)
    expect(page.get_by_role("link", name="Distance", exact=True)).to_have_count(0)
    page.get_by_role("button", name="Distance from here").click()
    expect(page.locator("th[aria-sort]")).to_have_text("Distance")
    expect(page.locator(".spots .name").first).to_have_text("Foundry Lane")


def test_a_hostile_name_is_text_in_list_and_map(page, town):
    from models.store.spots import add_spot, delete_spot
    from models.street.spot import SpotDraft

    hostile = "`${document.title='PWN'}`</script><img src=x onerror=\"document.title='PWN'\">"
    place = {"latitude_deg": 52.5296, "longitude_deg": 5.2312, "zone": "Europe/Amsterdam"}
    with town.extensions["kerbstand"].writing() as s:
        spot = add_spot(s, SpotDraft(name=hostile, **place))
    page.goto(NOON)
    settle(page)
    page.wait_for_load_state("networkidle")
    expect(page.locator(".spots .name", has_text="PWN")).to_have_text(hostile)
    press_map(page, [52.5296, 5.2312])
    expect(page.locator(".leaflet-popup-content a").first).to_have_text(hostile)
    assert "PWN" not in page.title()
    with town.extensions["kerbstand"].writing() as s:
        delete_spot(s, spot.id, spot.version)


def test_the_wheel_scrolls_the_page_until_the_map_is_in_use(page):
    page.set_viewport_size({"width": 1280, "height": 500})
    page.goto(NOON)
    page.wait_for_load_state("networkidle")
    zoom = page.evaluate("window.map_main.getZoom()")
    page.locator("#map_main").hover()
    page.mouse.wheel(0, 300)
    page.wait_for_function("window.scrollY > 0")
    assert page.evaluate("window.map_main.getZoom()") == zoom


def test_a_server_that_went_away_is_said(page, watch):
    watch.expected.append("Failed to load resource")
    page.goto(NOON)
    settle(page)
    page.route("**/?**", lambda route: route.abort())
    page.get_by_role("button", name="15 minutes later").click()
    expect(page.get_by_role("alert")).to_contain_text("does not answer")
