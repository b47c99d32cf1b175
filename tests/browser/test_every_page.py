"""Every page keeps the rules of access and fits a phone: what no other file here opens is opened here.

Which pages there are is asked of the program, so a new one is looked at by itself, or named below with why not.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from flask import Flask
from playwright.sync_api import BrowserContext, Page

from models.planning.kit import begin_with_kit
from tests.browser import (
    test_enquiries,
    test_kit,
    test_rules,
    test_setups,
    test_spot,
    test_street,
    test_ways,
    test_what_if,
    test_workshop,
)
from tests.browser.conftest import Watch, serving, watching
from tests.databases import copy_of, filled
from tests.webapp.conftest import NOW
from tests.webapp.whole_town import Known, addresses, fill, known
from webapp import create_app

pytestmark = pytest.mark.browser

OPENED_BY_OTHERS = (
    *test_enquiries.ADDRESSES,
    *test_kit.ADDRESSES,
    *test_rules.PAGES,
    *test_setups.PAGES,
    *test_spot.ADDRESSES,
    *test_street.PAGES,
    *test_ways.PAGES,
    *test_what_if.ADDRESSES,
    *(f"{test_workshop.READY}/{part}" for part in test_workshop.PARTS),
)
FILE = re.compile(r"\.[a-z]+$")
"""An address that ends so is no page: figures, calendars, scripts."""
NO_PAGE = {
    "static": "style sheets, scripts and pictures",
    "maps.leaflet": "a program of the map",
    "enquiries.download": "a file that somebody else made",
    "house.health": "a word for other programs",
    "street.fetched": "leads back to the weather",
    "running.leaf_file": "saved, not shown; test_workshop.py opens it from disk",
    "shared_briefing.file": "saved, not shown; test_briefing.py opens it from disk",
    "shared_briefing.own_file": "saved, not shown; the same file as a reader's",
    "shared_briefing.page": "opened by test_briefing.py",
    "shared_briefing.links": "opened by test_briefing.py",
    "account.sign_in_form": "opened by test_account.py, with sign-in on",
    "account.link": "opened by test_account.py, with sign-in on",
    "account.show": "opened by test_account.py, with sign-in on",
}
ONCE_MORE = {"workshops.workshop", "street.hazards"}
"""With people, stations and what is open of them."""
PARTS = ("people", "stations", "workshops", "briefings", "street")
"""Blueprints with several pages; the others are looked at together."""


@pytest.fixture(scope="module")
def whole(demo_once, tmp_path_factory, chromium) -> Iterator[Flask]:
    begun = filled(demo_once, tmp_path_factory.mktemp("filling"), fill)
    with copy_of(begun, tmp_path_factory.mktemp("whole")) as store:
        yield create_app(store, config_changes={"SECRET_KEY": "only for tests", "CLOCK": lambda: NOW})


@pytest.fixture(scope="module")
def home(whole) -> Iterator[str]:
    with serving(whole) as port:
        yield f"http://127.0.0.1:{port}"


@pytest.fixture(scope="module")
def words(whole) -> Known:
    return known(whole.extensions["kerbstand"], whole.config["SECRET_KEY"])


@pytest.fixture
def watch(context: BrowserContext, home: str) -> Iterator[Watch]:
    with watching(context, home) as seen:
        yield seen


def to_open(app: Flask, words: Known) -> dict[str, str]:
    """The address to look at, by endpoint."""
    here = app.url_map.bind("localhost")
    done = {here.match(address.partition("?")[0])[0] for address in OPENED_BY_OTHERS}
    left = done - ONCE_MORE | set(NO_PAGE)
    return {one: to for one, to in addresses(app, words) if one not in left and not FILE.search(to.partition("?")[0])}


@pytest.mark.parametrize("part", [*PARTS, "others"])
def test_every_page_keeps_the_rules_of_access_and_fits_a_phone(page: Page, assert_sound, home, whole, words, part):
    pages = to_open(whole, words)
    wanted = [one for one in pages if (one.partition(".")[0] if one.partition(".")[0] in PARTS else "others") == part]
    assert wanted
    for endpoint in wanted:
        answer = page.goto(home + pages[endpoint])
        assert (endpoint, answer.status, answer.headers["content-type"]) == (endpoint, 200, "text/html; charset=utf-8")
        assert_sound(page)


def test_lists_with_nothing_on_them_keep_them_too(page: Page, assert_sound, watch, made_once, tmp_path, words):
    with copy_of(made_once, tmp_path) as store:
        begin_with_kit(store)
        app = create_app(store, config_changes={"SECRET_KEY": "only for tests", "CLOCK": lambda: NOW})
        told = {to.removesuffix(".json") for _, to in addresses(app, words) if to.endswith(".json")}
        lists = [to for one, to in addresses(app, words) if to in told and "/" not in to[1:] and one not in NO_PAGE]
        assert len(lists) > 8
        with serving(app) as port:
            watch.home = f"http://127.0.0.1:{port}/"
            for address in lists:
                page.goto(f"http://127.0.0.1:{port}{address}")
                assert_sound(page)
            page.goto("about:blank")


def test_every_exception_is_a_page_that_there_is(whole, words):
    assert set(NO_PAGE) | ONCE_MORE <= {endpoint for endpoint, _ in addresses(whole, words)}
    assert set(to_open(whole, words)) >= ONCE_MORE
