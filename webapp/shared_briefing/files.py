"""A briefing as one HTML file that asks for nothing else: style and drawings are in it."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from flask import Response, current_app, render_template

from models.planning.briefing.opened import Opened


def one_file(told: Opened, link: str = "") -> str:
    """The file. link: where the latest version stands, '' for nowhere."""
    sheet = _sheet(current_app.static_folder or "")
    return render_template("briefing_file.html", told=told, sheet=sheet, link=link)


def attached(told: Opened, html: str) -> Response:
    """To be kept, not shown: the policy of this program's pages would leave it without its style."""
    return sent(html, "text/html", f"briefing-{told.workshop_id}-{told.readers}.html")


def sent(file: str | bytes, mimetype: str, name: str) -> Response:
    response = Response(file, mimetype=mimetype)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    return response


@lru_cache(maxsize=1)
def _sheet(folder: str) -> str:
    return (Path(folder) / "css" / "briefing.css").read_text("utf-8").strip()
