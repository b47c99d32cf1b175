"""What the tests of several pages do and look for alike."""

from __future__ import annotations

from collections.abc import Sequence

from playwright.sync_api import Page

TARGETS = "main :is(a, button, input, select, summary)"
SENTENCES = "[type=checkbox], .crumb, .unseen, p:not([class]), dd, .areas-here"
"""Links within a sentence are as high as its line."""


def low_targets(page: Page, excused: str, among: str = TARGETS) -> list[str]:
    """What is pressed, shown, and lower than a finger needs; `excused`: selectors of what may be, with all inside."""
    return page.evaluate(
        """([among, excused]) => [...document.querySelectorAll(among)]
            .filter(e => !e.closest(excused) && e.getClientRects().length)
            .filter(e => e.getBoundingClientRect().height < 43.5).map(e => e.outerHTML.slice(0, 80))""",
        [among, excused],
    )


def small_texts(page: Page, among: str = "main *:not(svg *)") -> list[str]:
    """What holds words of its own in letters under 16 px."""
    return page.evaluate(
        """among => [...document.querySelectorAll(among)]
            .filter(e => [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()))
            .filter(e => parseFloat(getComputedStyle(e).fontSize) < 16).map(e => e.outerHTML.slice(0, 80))""",
        among,
    )


def press_map(page: Page, place: Sequence[float]) -> None:
    """Press where the map shows (latitude, longitude)."""
    point = page.evaluate("place => window.map_main.latLngToContainerPoint(place)", place)
    page.locator("#map_main").click(position={"x": point["x"], "y": point["y"]})


def mark(page: Page) -> None:
    """Leave a mark that a reload would wipe out."""
    page.evaluate("window.stillHere = true")


def assert_not_reloaded(page: Page) -> None:
    assert page.evaluate("window.stillHere === true")
