"""A rota on paper, page by page, and on a telephone: names whole, and beside the columns that scroll."""

from __future__ import annotations

from io import BytesIO

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from tests.browser.test_workshop import READY

pytestmark = pytest.mark.browser

WHOSE = "Afternoon in the lane, Saturday 17 October 2026, 16:45 to 18:00 CEST, Foundry Lane"
MORE_ROUNDS = "rows => rows.forEach(row => row.append(...[...row.children].slice(1).map(e => e.cloneNode(true))))"
LINES = "e => new Set([...e.getClientRects()].map(box => box.top)).size"


def test_paper_says_whose_every_sheet_and_slip_is_and_no_page_is_empty(page):
    for show, most in (("stations", 2), ("people", 4)):
        page.goto(f"{READY}/rota?show={show}")
        sheets = page.locator(".sheet, .slip").count()
        pages = [" ".join(each.extract_text().split()) for each in PdfReader(BytesIO(page.pdf(format="A4"))).pages]
        assert all(pages), f"an empty page of {len(pages)}"
        assert len(pages) <= most
        assert sum(text.count(WHOSE) for text in pages) == sheets


def test_on_a_telephone_a_name_is_whole_and_stays_where_rounds_scroll(page):
    page.set_viewport_size({"width": 375, "height": 700})
    page.goto(f"{READY}/rota?show=grid")
    box, name = page.locator(".wide").first, page.locator(".grid tbody th bdi").first
    expect(name).to_be_visible()
    assert box.evaluate("e => e.scrollWidth <= e.clientWidth"), "three rounds and initials need no scrolling"
    name.evaluate("e => e.textContent = 'Dorotheas'")
    assert name.evaluate(LINES) == 1
    page.locator(".grid tr").evaluate_all(MORE_ROUNDS)
    assert name.evaluate(LINES) == 1
    box.evaluate("e => e.scrollLeft = e.scrollWidth")
    assert box.evaluate("e => e.scrollLeft") > 0
    assert abs(name.bounding_box()["x"] - box.bounding_box()["x"]) < 1
