"""Our own JavaScript stays small."""

from __future__ import annotations

from pathlib import Path

import webapp

SCRIPTS = sorted((Path(webapp.__file__).parent / "static" / "js").rglob("*.js"))
BUDGET = 20_000


def test_our_javascript_fits_its_budget():
    sizes = {path.name: path.stat().st_size for path in SCRIPTS}
    assert len(sizes) >= 5
    assert sum(sizes.values()) < BUDGET, sizes


def test_our_javascript_writes_no_markup():
    for path in SCRIPTS:
        text = path.read_text(encoding="utf-8")
        for unsafe in ("innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval(", "Function("):
            assert unsafe not in text, f"{path.name} uses {unsafe}"
