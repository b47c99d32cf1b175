"""A QR code (ISO/IEC 18004) as a drawing. The only home of segno."""

from __future__ import annotations

import io

import segno

QUIET = 4
"""Modules left free all round, as the standard asks."""


def qr_svg(text: str, title: str = "QR code") -> str:
    """An SVG of dark modules on white, whatever is round it, one unit a module.

    title: what it leads to, read out in its place. Raises ValueError for more than fits, 2,331 bytes at level M.
    """
    code = segno.make(text, error="m", boost_error=False, micro=False)
    drawn = io.BytesIO()
    look = {"border": QUIET, "dark": "#000", "light": "#fff", "svgclass": "qr", "lineclass": None}
    code.save(drawn, kind="svg", xmldecl=False, nl=False, omitsize=True, title=title, **look)
    return drawn.getvalue().decode().replace("<svg ", '<svg role="img" ', 1)
