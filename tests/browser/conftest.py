"""A real Chromium on the demo town. Skips with a plain reason where there is none; see KERBSTAND_REQUIRE_BROWSER."""

from __future__ import annotations

import os
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import pytest
from axe_playwright_python.base import AXE_FILE_PATH
from flask import Flask
from playwright.sync_api import Browser, BrowserContext, Error, Page, expect
from werkzeug.serving import make_server

from tests.databases import copy_of

CHROMIUM = Path(os.environ.get("CHROMIUM", "/usr/bin/chromium"))
PATIENCE_MS = 20_000
"""A busy machine is slow, not wrong; a test that passes does not wait for this."""
NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",  # whatever a page asks for, nothing leaves this machine
)
AXE = AXE_FILE_PATH.read_text("utf-8")
LOOKS = ("color-contrast", "link-in-text-block", "scrollable-region-focusable")
"""Axe's rules that hang on colours and sizes; all others see the same where the same elements are shown."""
REMEMBER_SHOWN = """() => { window.shownBefore = new WeakSet([...document.querySelectorAll("*")]
    .filter(e => e.checkVisibility({ visibilityProperty: true }))) }"""
SHOWN_ANEW = """() => [...document.querySelectorAll("*")]
    .some(e => e.checkVisibility({ visibilityProperty: true }) && !window.shownBefore.has(e)
        && !e.closest("[aria-hidden=true]"))"""

expect.set_options(timeout=PATIENCE_MS)


@pytest.fixture(scope="session")
def chromium() -> Path:
    if CHROMIUM.exists():
        return CHROMIUM
    reason = f"there is no Chromium at {CHROMIUM}: install it, or name it in the variable CHROMIUM"
    if os.environ.get("KERBSTAND_REQUIRE_BROWSER"):
        pytest.fail(reason, pytrace=False)
    pytest.skip(reason)


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args, chromium):
    return {**browser_type_launch_args, "executable_path": str(chromium), "args": list(QUIET)}


@pytest.fixture(scope="session")
def town(demo_once, tmp_path_factory, chromium):
    """The app on a demo database of these tests' own."""
    from webapp import create_app

    with copy_of(demo_once, tmp_path_factory.mktemp("town")) as store:
        app = create_app(store, config_changes={"SECRET_KEY": "only for tests", "CLOCK": lambda: NOW})
        worked_out(app)
        yield app


def worked_out(app) -> None:
    """Every spot's light is known, so that no test waits for it."""
    for _ in range(40):
        answer = app.test_client().get("/spots.json")
        assert answer.status_code == 200, answer.text
        if not answer.json["pending"]:
            return
    pytest.fail("the demo's spots were not worked out in forty requests")


@pytest.fixture(scope="session")
def base_url(town) -> Iterator[str]:
    with serving(town) as port:
        yield f"http://127.0.0.1:{port}"


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


@dataclass
class Watch:
    """What went wrong in a context. expected: console messages that a test provokes on purpose."""

    home: str
    problems: list[str] = field(default_factory=list)
    expected: list[str] = field(default_factory=list)

    def console(self, message) -> None:
        if message.type in ("error", "warning") and not any(text in message.text for text in self.expected):
            self.problems.append(f"console {message.type}: {message.text}")

    def script_error(self, error) -> None:
        self.problems.append(f"script error: {error.error}")

    def request(self, asked) -> None:
        if not asked.url.startswith(self.home):
            self.problems.append(f"request to {asked.url}")


@pytest.fixture(scope="session")
def shared_tab(browser: Browser, base_url: str) -> Page:
    """One tab for all tests of a worker: to begin another costs more than to load a page."""
    tab = browser.new_context(base_url=base_url).new_page()
    tab.set_default_timeout(PATIENCE_MS)
    return tab


@pytest.fixture
def context(shared_tab: Page) -> Iterator[BrowserContext]:
    """As a reader comes who was never here: no cookie, nothing granted, a desk in the light."""
    shared_tab.set_viewport_size({"width": 1280, "height": 720})
    shared_tab.emulate_media(media="null", color_scheme="light")
    yield shared_tab.context
    shared_tab.unroute_all()
    leave(shared_tab)
    shared_tab.context.clear_cookies()
    shared_tab.context.clear_permissions()
    shared_tab.context.set_geolocation(None)


def leave(tab: Page) -> None:
    """Away from the test's last page, also where a press there is still leading somewhere."""
    for _ in range(5):
        with suppress(Error):
            tab.goto("about:blank")
            return
    pytest.fail("the tab cannot be emptied")


@pytest.fixture
def watch(context: BrowserContext, base_url: str) -> Iterator[Watch]:
    """Every test asserts: nothing on the console, no script error, no request off this machine."""
    with watching(context, base_url) as seen:
        yield seen


@contextmanager
def watching(context: BrowserContext, home: str) -> Iterator[Watch]:
    seen = Watch(home + "/")
    listening = {"console": seen.console, "weberror": seen.script_error, "request": seen.request}
    for event, listener in listening.items():
        context.on(event, listener)
    yield seen
    for event, listener in listening.items():
        context.remove_listener(event, listener)
    assert seen.problems == []


@pytest.fixture
def page(shared_tab: Page, watch: Watch) -> Page:
    return shared_tab


@pytest.fixture
def assert_sound():
    """Axe finds nothing and nothing overflows, on a desk in the light and on a phone in the dark, where it is left."""

    def check(page: Page) -> None:
        found = []
        for width, scheme in ((1280, "light"), (375, "dark")):
            page.set_viewport_size({"width": width, "height": 800})
            page.emulate_media(color_scheme=scheme)
            assert page.evaluate("document.documentElement.scrollWidth") <= width
            found += violations(page, LOOKS if width == 375 and not page.evaluate(SHOWN_ANEW) else ())
            page.evaluate(REMEMBER_SHOWN)
        assert found == []

    return check


@pytest.fixture
def assert_accessible():
    def check(page: Page) -> None:
        assert violations(page) == []

    return check


def violations(page: Page, rules: Sequence[str] = ()) -> list[str]:
    """What axe finds amiss, each with the elements; rules: these only, by name (none: all)."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE)
    options = {"resultTypes": ["violations"], **({"runOnly": list(rules)} if rules else {})}
    return page.evaluate(
        """options => axe.run(options).then(found => found.violations.map(
            v => [v.id, v.help, ...v.nodes.map(n => n.html + " " + n.failureSummary)].join("\\n")))""",
        options,
    )
