"""A real Chromium on the demo town. Skips with a plain reason where there is none; see KERBSTAND_REQUIRE_BROWSER."""

from __future__ import annotations

import os
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import BrowserContext, Page, expect
from werkzeug.serving import make_server

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
)


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
def town(tmp_path_factory, chromium):
    """The app on a demo database of these tests' own."""
    from models.planning.demo import open_demo
    from webapp import create_app

    store = open_demo(tmp_path_factory.mktemp("town") / "demo.sqlite3")
    app = create_app(store, config_changes={"SECRET_KEY": "only for tests", "CLOCK": lambda: NOW})
    worked_out(app)
    yield app
    store.close()


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
    server = make_server("127.0.0.1", 0, town, threaded=True)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    thread.join()
    server.server_close()


@dataclass
class Watch:
    """What went wrong in a context. expected: console messages that a test provokes on purpose."""

    problems: list[str] = field(default_factory=list)
    expected: list[str] = field(default_factory=list)

    def console(self, message) -> None:
        if message.type in ("error", "warning") and not any(text in message.text for text in self.expected):
            self.problems.append(f"console {message.type}: {message.text}")


@pytest.fixture
def watch(context: BrowserContext, base_url: str) -> Iterator[Watch]:
    """Every test asserts: nothing on the console, no script error, no request off this machine."""
    seen = Watch()

    def only_here(route) -> None:
        address = route.request.url
        if address.startswith(base_url + "/"):
            route.continue_()
        else:
            seen.problems.append(f"request to {address}")
            route.abort()

    context.route("**/*", only_here)
    context.on("console", seen.console)
    context.on("weberror", lambda error: seen.problems.append(f"script error: {error.error}"))
    yield seen
    assert seen.problems == []


@pytest.fixture
def page(context: BrowserContext, watch: Watch) -> Page:
    opened = context.new_page()
    opened.set_default_timeout(PATIENCE_MS)
    return opened


@pytest.fixture
def assert_sound(assert_accessible):
    """Axe finds nothing and nothing overflows, on a desk in the light and on a phone in the dark, where it is left."""

    def check(page: Page) -> None:
        for width, scheme in ((1280, "light"), (375, "dark")):
            page.set_viewport_size({"width": width, "height": 800})
            page.emulate_media(color_scheme=scheme)
            assert_accessible(page)
            assert page.evaluate("document.documentElement.scrollWidth") <= width

    return check


@pytest.fixture
def assert_accessible():
    def check(page: Page) -> None:
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()

    return check
