"""A drawing for where no stylesheet reaches: black on white by attributes, its classes kept for where one does.

Presentation attributes give way to any stylesheet (SVG 1.1 section 6.4), so the same drawing still has its dark tones
on a page. The tones are the light ones of webapp/static/css/drawings.css; a test holds them to it.
"""

from __future__ import annotations

import re

PAPER, INK, SOFT, RULE, ACCENT = "#fbfaf7", "#16181c", "#474c54", "#d9d5cc", "#7a2e1d"
GRAIN, HOUSE, WALL, SHADE = "#8b867c", "#dedad0", "#efebe2", "#e9e6df"
TEXT = {
    "fill": SOFT, "stroke": PAPER, "stroke-width": "3px", "stroke-linejoin": "round", "paint-order": "stroke",
}  # fmt: skip
"""What every line of text has, whatever its class; its face is that of the page."""
ROUND = {"stroke-linejoin": "round", "stroke-linecap": "round"}
LINE_7_3 = {"stroke": ACCENT, "stroke-width": "1", "stroke-dasharray": "7 3"}
TONES: dict[str, dict[str, str]] = {
    "strong": {"fill": INK},
    "rule": {"stroke": RULE, "stroke-width": "1"},
    "bracket": {"stroke": INK, "stroke-width": "1.6"},
    "leader": {"stroke": INK, "stroke-width": "1"},
    "camera": {"fill": INK},
    "now": {"fill": PAPER, "stroke": INK, "stroke-width": "2"},
    "now-down": {"fill": INK},
    "zero": {"stroke": SOFT, "stroke-width": "1"},
    "person": {"fill": PAPER, "stroke": INK, "stroke-width": "1.4"},
    "way": {"stroke": ACCENT, "stroke-width": "4", **ROUND},
    "way-under": {"stroke": PAPER, "stroke-width": "8", **ROUND},
    "way-guessed": {"stroke": ACCENT, "stroke-width": "2.4", "stroke-dasharray": "7 6"},
    "slab": {"stroke": RULE, "stroke-width": "0.8"},
    "road": {"fill": SHADE},
    "wall-surveyed": {"fill": WALL},
    "outline-surveyed": {"stroke": INK, "stroke-width": "1.2", "stroke-linejoin": "round"},
    "grain": {"stroke": GRAIN, "stroke-width": "0.7"},
    "edge": {"stroke": INK, "stroke-width": "0.8"},
    "tick": {"stroke": SOFT, "stroke-width": "1"},
    "backdrop": {"stroke": INK, "stroke-width": "1", "stroke-dasharray": "2 3"},
    "cast": {"fill": INK, "fill-opacity": "0.16"},
    "beam": {"fill": ACCENT, "fill-opacity": "0.09", **LINE_7_3},
    "aim": {"stroke": ACCENT, "stroke-width": "1.2", "stroke-dasharray": "1.5 4"},
    "lit-face": {"stroke": ACCENT, "stroke-width": "4"},
    "sun-arrow": {"stroke": INK, "stroke-width": "2.4"},
    "sun-arrow-hidden": {"stroke": INK, "stroke-width": "1.4", "stroke-dasharray": "3 4"},
    "map-sheet": {"fill": PAPER},
    "map-house": {"fill": HOUSE, "stroke": GRAIN, "stroke-width": "0.7"},
    "map-path": {"stroke": RULE, "stroke-width": "1.6", "stroke-linejoin": "round"},
    "map-part": {"stroke": SOFT, "stroke-width": "1.2", "stroke-dasharray": "3 3"},
    "map-comfort": {"fill": PAPER, "stroke": ACCENT, "stroke-width": "2"},
    "map-fallback": {"fill": PAPER, "stroke": INK, "stroke-width": "2.4"},
}
_TAG = re.compile(r'<([a-z]+) class="([^"]+)"([^>]*?)(/?)>')


def on_paper(drawing: str) -> str:
    """The drawing with its light tones written into it; what an element says itself stays. A class without a tone here
    stays as it is."""
    return _TAG.sub(_toned, drawing)


def _toned(tag: re.Match[str]) -> str:
    name, classes, rest, end = tag.groups()
    tones = dict(TEXT) if name == "text" else {}
    for cls in classes.split():
        tones |= TONES.get(cls, {})
    written = "".join(f' {key}="{value}"' for key, value in tones.items() if f' {key}="' not in rest)
    return f'<{name} class="{classes}"{rest}{written}{end}>'
