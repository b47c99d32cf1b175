"""What the forms of areas and rules read from a request."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from flask import request

from models.clock import to_local
from models.planning.spots import home_zone
from models.problems import InputProblem
from webapp.answering import now, store


def today() -> date:
    """The local day where the spots are."""
    return to_local(now(), home_zone(store())).date()


def version() -> int:
    """The version a form was made from. Raises InputProblem."""
    text = request.form.get("version", "")
    if not (text.isascii() and text.isdecimal()) or len(text) > 18:
        raise InputProblem("version", "the form did not say which version it was made from. Load it again.")
    return int(text)


def page_number() -> int:
    return number(request.args.get("page")) or 1


def number(text: str | None) -> int | None:
    """A number of an address, None for none that can be meant."""
    typed = (text or "").strip()
    return int(typed) if typed.isascii() and typed.isdecimal() and len(typed) < 10 else None


def differing(kept: Mapping[str, str], names: Iterable[str]) -> dict[str, str]:
    """By field, what is kept now where it differs from what was typed."""
    return {name: kept[name] for name in names if _tidy(kept[name]) != _tidy(request.form.get(name, ""))}


def _tidy(text: str) -> str:
    return "\n".join(line.strip() for line in text.strip().splitlines())
