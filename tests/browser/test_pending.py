"""While spots are still being worked out, list and map say so and look again by themselves."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from models.planning import map_layers, spots, town_states
from tests.browser.looking import assert_not_reloaded, mark

pytestmark = pytest.mark.browser


WAITING = re.compile(r"^\s*\d+ spots are still being worked out. Look again$")


def be_patient(monkeypatch, seconds):
    monkeypatch.setattr(spots, "PATIENCE_S", seconds)
    monkeypatch.setattr(town_states, "PATIENCE_S", seconds)
    monkeypatch.setattr(map_layers, "BRIGHTNESS_PATIENCE_S", seconds)
    monkeypatch.setattr(map_layers, "AGAIN_PATIENCE_S", seconds)


def test_list_and_map_say_what_is_missing_and_fill_it_in(page, monkeypatch):
    be_patient(monkeypatch, -1.0)
    page.goto("/")
    expect(page.locator("[data-live=pending]")).to_have_text(WAITING)
    expect(page.get_by_role("link", name="Look again")).to_be_hidden()
    expect(page.locator("#map-say")).to_contain_text("Some spots are still being worked out.")
    mark(page)
    be_patient(monkeypatch, 60.0)
    expect(page.locator("[data-again]")).to_have_count(0, timeout=60_000)
    expect(page.locator(".spots .state", has_text="being worked out")).to_have_count(0)
    expect(page.locator("#map-say")).not_to_contain_text("worked out", timeout=60_000)
    assert_not_reloaded(page)


def test_without_a_script_there_is_a_link_to_look_again(browser, base_url, monkeypatch):
    be_patient(monkeypatch, -1.0)
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{base_url}/?at=12:00&sky=0")
    be_patient(monkeypatch, 60.0)
    page.get_by_role("link", name="Look again").click()
    expect(page.get_by_text("being worked out")).to_have_count(0)
    assert "at=12%3A00" in page.url
    context.close()
