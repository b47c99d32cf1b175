"""Marks for the sun. Filled: it shines on the spot. Hollow: hidden. Half: behind leaves. A point: too close to call."""

from __future__ import annotations

from typing import Literal

from models.drawing.key import KeyItem, mark_item
from models.drawing.svg import el, num

SunMark = Literal["open", "leaves", "behind", "unsure"]

SUN_WORDS: dict[SunMark, str] = {
    "open": "sun shines on the spot",
    "leaves": "sun behind leaves",
    "behind": "sun hidden",
    "unsure": "too close to call",
}


def sun_mark(state: SunMark, x: float, y: float, radius: float = 4.0) -> str:
    """The mark about a point."""
    if state == "open":
        return el("circle", cls="lit", cx=x, cy=y, r=radius)
    hollow = el("circle", cls="hidden-sun", cx=x, cy=y, r=radius)
    if state == "leaves":
        r = num(radius)
        return hollow + el("path", cls="lit", d=f"M{num(x)} {num(y - radius)}a{r} {r} 0 0 0 0 {num(2 * radius)}z")
    return hollow + el("circle", cls="lit", cx=x, cy=y, r=1.2) if state == "unsure" else hollow


def moment_mark(state: SunMark, x: float, y: float) -> str:
    """The sun's mark in a ring: where it stands at the moment pointed at."""
    return el("circle", cls="now", cx=x, cy=y, r=8) + sun_mark(state, x, y)


def down_mark(x: float, horizon: float) -> str:
    """An arrow into the ground: the sun is down, in this direction."""
    return el("path", cls="now-down", d=f"M{num(x)} {num(horizon + 1)}l-5 -8h10z")


def sun_item(state: SunMark) -> KeyItem:
    return mark_item(SUN_WORDS[state], lambda x, y: sun_mark(state, x, y))
