"""Addresses of setups carry the light they are looked at in, and what is planned, from page to page."""

from __future__ import annotations

from flask import request, url_for

from webapp.address import MOMENT

CARRIED = ("spot", *MOMENT, "looking", "ev", "behind", "pace", "frames", "wind", "shown", "until", "channel")


def with_words(endpoint: str, **values: object) -> str:
    """url_for with those parameters of this request carried along."""
    kept = {name: value for name in CARRIED if (value := request.args.get(name))}
    said = {name: value for name, value in (kept | values).items() if value not in (None, "")}
    return url_for(endpoint, **said)  # type: ignore[arg-type]
