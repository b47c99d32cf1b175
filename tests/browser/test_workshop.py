"""A workshop from nothing, as an organiser makes it: people, stations, plan, what it warns of, the day, paper."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.looking import SENTENCES, low_targets

pytestmark = pytest.mark.browser

ATTENDEES = ("Ana", "Bo", "Cem", "Dov", "Eli", "Fay", "Gus", "Hal", "Ida")
MODELS = ("Mia", "Nik", "Oda")
STATIONS = (("Single gridded key", "Mia", ""), ("Shade key against a sunlit wall", "Nik", ""),
            ("Dish and reflector", "Oda", "1"))  # fmt: skip
READY = "/workshops/4"
PARTS = ("order", "rota", "day", "batteries", "leaf")


def kept_workshop(page: Page) -> str:
    """Nine people and three models in Foundry Lane, with too little time; where it is."""
    page.goto("/workshops/new?spot=2&on=2026-10-24&at=16:45")
    for field, text in (("title", "Lane at dusk"), ("to_time", "17:35"), ("group", "13"), ("models", "3")):
        page.locator(f"#{field}").fill(text)
    page.get_by_role("button", name="Keep this workshop").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Lane at dusk")
    return re.search(r"/workshops/\d+", page.url)[0]


def put_people(page: Page, workshop: str, part: str, names: tuple[str, ...]) -> None:
    page.goto(f"{workshop}/people/import")
    page.get_by_label("They come as").select_option(part)
    page.get_by_label("People", exact=True).fill("\n".join(f"{name}, {name.lower()}@mail.example" for name in names))
    page.get_by_role("button", name="Look what is in it").click()
    page.get_by_role("button", name=re.compile(f"Put these {len(names)} people")).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("People")


def put_station(page: Page, workshop: str, name: str, station: tuple[str, str, str]) -> None:
    setup, model, holders = station
    page.goto(f"{workshop}/stations/new")
    page.get_by_label("Called out as").fill(name)
    page.get_by_label("Setup", exact=True).select_option(setup)
    page.get_by_label("Model", exact=True).select_option(model)
    page.get_by_label("Depth from the wall").fill("2 m")
    page.get_by_label("Hold a light").fill(holders)
    page.get_by_role("button", name="Keep this station").click()
    expect(page.get_by_role("heading", name=f"{name}: {setup}")).to_be_visible()


def test_from_nothing_to_a_rota_that_two_are_missing_from(page, watch, assert_sound):
    watch.expected.append("422")
    workshop = kept_workshop(page)
    page.goto(f"{workshop}/order")
    expect(page.locator(".answer")).to_contain_text("no station is set up for it yet")
    put_people(page, workshop, "attendee", ATTENDEES)
    put_people(page, workshop, "model", MODELS)
    for name, station in zip("ABC", STATIONS, strict=True):
        put_station(page, workshop, name, station)
    fixed(page, workshop)
    two_leave(page, workshop)
    assert_sound(page)
    printed(page, workshop)


def fixed(page: Page, workshop: str) -> None:
    """It is too long, has nowhere to go and nobody to talk: each is mended where the page says."""
    page.goto(f"{workshop}/order")
    expect(page.locator(".answer")).to_contain_text("too long")
    expect(page.get_by_text("No fallback is chosen")).to_be_visible()
    page.get_by_role("link", name="Change frames a turn").click()
    page.get_by_label("Frames a turn").fill("5")
    page.get_by_label("Further fallback spots").fill("Linden Walk")
    page.get_by_label("Who talks if you are asked to stop").fill("Pat")
    page.get_by_role("button", name="Keep the plan").click()
    page.goto(f"{workshop}/order")
    expect(page.locator(".answer")).to_contain_text("spare")
    expect(page.get_by_role("heading", name="If it goes to Linden Walk")).to_be_visible()
    expect(page.get_by_role("link", name="Change frames a turn")).to_have_count(0)


def two_leave(page: Page, workshop: str) -> None:
    page.goto(f"{workshop}/day")
    expect(page.locator(".grid tbody tr")).to_have_count(9)
    who = page.locator("form", has=page.get_by_role("button", name="These left"))
    for name in ("Ana", "Gus"):
        who.get_by_label(name).check()
    who.get_by_label("before round").fill("2")
    who.get_by_label("At").fill("half past")
    who.get_by_role("button", name="These left").click()
    expect(page.locator("#at-wrong")).to_be_visible()
    expect(who.get_by_label("Gus")).to_be_checked()
    expect(who.get_by_label("Bo")).not_to_be_checked()
    who.get_by_label("At").fill("17:15")
    who.get_by_role("button", name="These left").click()
    expect(page.get_by_text("the rota is made anew from there")).to_be_visible()
    expect(page.locator(".happened")).to_contain_text("Ana left, before round 2, turn 1")
    expect(page.locator(".grid tbody tr")).to_have_count(7)
    expect(page.locator(".grid thead")).to_contain_text("Round 2")
    expect(page.locator(".grid thead")).not_to_contain_text("Round 1")
    expect(page.locator(".answer")).to_contain_text("9 turns are shot")


def printed(page: Page, workshop: str) -> None:
    """On paper nothing is left to press, and every table is there."""
    for part, there in (("rota", "Station A: Single gridded key"), ("leaf", "If we are asked to stop")):
        page.goto(f"{workshop}/{part}")
        page.emulate_media(media="print")
        expect(page.get_by_text(there).first).to_be_visible()
        for control in page.locator("main").locator("button, input, select, .button").all():
            expect(control).to_be_hidden()
        assert page.pdf(format="A4").startswith(b"%PDF-")
        page.emulate_media(media="null")


@pytest.mark.parametrize("part", PARTS)
def test_every_page_is_sound_and_can_be_pressed_with_a_thumb(page, assert_sound, part):
    page.goto(f"{READY}/{part}")
    expect(page.locator(".answer")).to_be_visible()
    assert_sound(page)
    assert low_targets(page, SENTENCES) == []


def test_the_leaf_taken_along_opens_from_disk_without_a_server(page, context, watch, tmp_path: Path, assert_sound):
    page.goto(f"{READY}/leaf")
    with page.expect_download() as coming:
        page.get_by_role("link", name="Take it along").click()
    file = tmp_path / "leaf.html"
    coming.value.save_as(file)
    context.set_offline(True)
    try:
        page.goto(file.as_uri())
        expect(page.get_by_role("heading", name="If we are asked to stop")).to_be_visible()
        expect(page.get_by_role("heading", name="1 person fewer: 8 there")).to_be_visible()
        expect(page.locator("a, script, link, img, form")).to_have_count(0)
        expect(page.locator("table").first).to_have_css("border-collapse", "collapse")
        assert_sound(page)
    finally:
        context.set_offline(False)
    assert watch.problems == [f"request to {file.as_uri()}"], "the file asks for nothing but itself"
    watch.problems.clear()
