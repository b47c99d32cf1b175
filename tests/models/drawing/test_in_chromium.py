"""The drawings as a real browser sets them: its own letters, its own boxes."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from models.drawing.day_strip import draw_day_strip
from models.drawing.pavement_section import draw_pavement_section
from models.drawing.plan_view import draw_plan_view
from models.drawing.skyline_strip import draw_skyline_strip
from models.drawing.svg import Width
from models.drawing.week_grid import draw_week_grid
from models.drawing.year_map import draw_year_map
from tests.models.drawing.samples import day, lane, plan, section, week, year

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
FLAGS = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
)
MEASURE = """
const found = {meet: [], small: [], black: [], shown: 0}
for (const svg of document.querySelectorAll("svg")) {
  const texts = [...svg.querySelectorAll("text")].filter((t) => t.getClientRects().length)
  found.shown += texts.length > 0
  const boxes = texts.map((t) => t.getBoundingClientRect())
  const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width
  texts.forEach((t, i) => {
    if (13 * scale < 12) found.small.push(t.textContent)
    if (getComputedStyle(t).fill === "rgb(0, 0, 0)") found.black.push(t.textContent)
    for (let j = 0; j < i; j++) {
      const a = boxes[i], b = boxes[j], dx = Math.min(a.right, b.right) - Math.max(a.left, b.left)
      const dy = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top)
      if (dx > 1 && dy > 4 * scale) found.meet.push([t.textContent, texts[j].textContent])
    }
  })
}
const said = document.createElement("pre"); said.id = "said"; said.textContent = JSON.stringify(found)
document.body.append(said)
"""
"""Line boxes have air above and below the letters: an overlap of up to 4 units in height is that air."""


@pytest.mark.browser
@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
@pytest.mark.parametrize(("width", "page_px"), [("wide", 1280), ("wide", 960), ("narrow", 500)])
def test_words_do_not_meet_and_are_large_enough(width: Width, page_px: int, tmp_path: Path) -> None:
    """Headless Chromium opens no window under 500 px; the phone is a 375 px column there."""
    page = tmp_path / "page.html"
    page.write_text(_page(page_px), encoding="utf-8")
    command = [str(CHROMIUM), *FLAGS, f"--window-size={page_px},2000", f"--user-data-dir={tmp_path / 'profile'}"]
    dom = subprocess.run(  # noqa: S603  a fixed command on our own page
        [*command, "--dump-dom", page.as_uri()], capture_output=True, text=True, timeout=60, check=True
    ).stdout
    said = re.search(r'<pre id="said">(.*?)</pre>', dom)
    assert said is not None
    found = json.loads(said[1].replace("&amp;", "&").replace("&lt;", "<").replace("&gt;", ">"))
    assert found == {"meet": [], "small": [], "black": [], "shown": 6}


def _page(page_px: int) -> str:
    css = Path("webapp/static/css/drawings.css").read_text(encoding="utf-8")
    widths: tuple[Width, ...] = ("wide", "narrow")
    drawings = [
        draw_skyline_strip(lane(), w)
        + draw_day_strip(day(), w)
        + draw_year_map(year(), w)
        + draw_pavement_section(section(), w)
        + draw_week_grid(week(), w)
        + draw_plan_view(plan(), w)
        for w in widths
    ]
    room_px = 375 - 32 if page_px == 500 else round(page_px * 0.92)
    return (
        f"<!doctype html><meta charset=utf-8><style>:root{{color-scheme:light}}body{{margin:0;width:{room_px}px}}{css}"
        f"</style><body>{''.join(drawings)}<script type=module>{MEASURE}</script>"
    )
