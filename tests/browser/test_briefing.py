"""A briefing where there is no signal: kept by the browser once opened, and as one file from the disk."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from flask import Flask
from playwright.sync_api import BrowserContext, Page, expect
from werkzeug.serving import make_server

from models.planning.briefing.opened import opened
from models.planning.briefing.shares import links_page, make_links, renew_link
from models.planning.briefing.versions import issued_briefing
from models.words.directions import unturned
from models.workshop.briefing import READERS
from tests.browser.conftest import NOW, PATIENCE_MS
from tests.browser.looking import SENTENCES, low_targets, small_texts
from tests.webapp.shared_briefing.hand_made import HOSTILE, SKETCH, made
from webapp.shared_briefing.files import one_file

pytestmark = pytest.mark.browser
WORKSHOP = 4
KEPT = """() => caches.keys().then(names => Promise.all(names.map(name => caches.open(name))))
    .then(all => Promise.all(all.map(one => one.keys()))).then(all => all.flat().map(asked => asked.url).sort())"""
ONE_LINE = """cells => cells.map(cell => { const words = document.createRange(); words.selectNodeContents(cell);
    return words.getClientRects().length === 1 })"""
WIDTH = "document.documentElement.scrollWidth"
WORKERS = "() => navigator.serviceWorker.getRegistrations().then(all => all.map(one => one.scope))"


@contextmanager
def serving(app: Flask, port: int = 0) -> Iterator[int]:
    """The port it is served at while the block lasts; nothing answers there after it."""
    server = make_server("127.0.0.1", port, app, threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield server.server_port
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.fixture
def own_context(browser) -> Iterator[BrowserContext]:
    """A browser that nothing was kept in, on a phone."""
    context = browser.new_context(viewport={"width": 375, "height": 740})
    context.set_default_timeout(PATIENCE_MS)
    yield context
    context.close()


def token_of(town: Flask, reader: str) -> str:
    store = town.extensions["kerbstand"]
    make_links(store, WORKSHOP, READERS, NOW)
    links = links_page(store, town.config["SECRET_KEY"], WORKSHOP, NOW).links
    return next(each.token for each in links if each.reader == reader)


def assert_reads(page: Page, town: Flask) -> None:
    """The running order and the sketch are there, in the page's own style."""
    briefing = issued_briefing(town.extensions["kerbstand"], WORKSHOP, "helper", NOW)
    rows = briefing.sections[0].table.rows
    assert len(rows) > 8
    expect(page.get_by_role("heading", level=1)).to_have_text(briefing.title)
    expect(page.locator("#when tbody tr")).to_have_text(["".join(row) for row in rows])
    assert page.locator("#when tbody td:first-child").evaluate_all(ONE_LINE) == [True] * len(rows)
    expect(page.locator("#where svg").first).to_be_visible()
    expect(page.locator("body")).to_have_css("font-size", "20px")


def test_the_page_is_there_without_a_server_until_its_link_ends(town, own_context):
    page, store = own_context.new_page(), town.extensions["kerbstand"]
    with serving(town) as port:
        home = f"http://127.0.0.1:{port}"
        link = f"{home}/b/{token_of(town, 'helper')}"
        page.goto(link)
        page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
        assert page.evaluate(WORKERS) == [link]
        assert page.evaluate(KEPT) == [link, f"{home}/static/css/briefing.css"]
    page.reload()
    assert_reads(page, town)
    page.goto("about:blank")
    page.goto(f"{link}?from=chat#where")
    assert_reads(page, town)
    renew_link(store, WORKSHOP, "helper", 1, NOW)
    with serving(town, port):
        page.reload()
        expect(page.get_by_role("heading", level=1)).to_have_text("There is nothing here")
        assert page.evaluate(KEPT) == []
        assert page.evaluate(WORKERS) == []


def test_page_and_file_read_well_and_the_file_asks_for_nothing(town, base_url, page, assert_sound, tmp_path):
    address = f"/b/{token_of(town, 'helper')}"
    page.goto(address)
    assert_reads(page, town)
    page.locator("summary").click()
    assert low_targets(page, ".dark") == []
    assert small_texts(page) == []
    assert_sound(page)
    page.get_by_label("Dark page").check()
    expect(page.locator("body")).to_have_css("background-color", "rgb(14, 16, 19)")
    assert_sound(page)
    kept = tmp_path / "briefing.html"
    kept.write_bytes(town.test_client().get(f"{address}/file").data)
    with page.context.browser.new_context(viewport={"width": 375, "height": 740}) as disk:
        tab, asked = disk.new_page(), []
        disk.on("request", lambda request: asked.append(request.url))
        tab.goto(kept.as_uri())
        assert_reads(tab, town)
        tab.get_by_label("Dark page").check()
        expect(tab.locator("body")).to_have_css("background-color", "rgb(14, 16, 19)")
        assert [url for url in asked if not url.startswith("data:")] == [kept.as_uri()]
        assert tab.evaluate(WIDTH) <= 375
        for words in HOSTILE.values():
            with town.test_request_context():
                kept.write_text(one_file(opened(made(words), SKETCH)), "utf-8")
            tab.goto(kept.as_uri())
            title = tab.get_by_role("heading", level=1).evaluate("each => each.textContent")
            assert title.split() == unturned(words).split()
            assert tab.evaluate(WIDTH) <= 375
    page.goto(f"/workshops/{WORKSHOP}/briefing/links")
    page.get_by_text("Change when it ends").first.click()
    assert low_targets(page, SENTENCES) == []
    assert_sound(page)
