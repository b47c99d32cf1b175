"""What every form reads from a request, and how every page that keeps things answers: clash, problems, undo."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from flask import Response, flash, make_response, render_template, request

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


def offer_undo(words: str, action: str) -> None:
    """Say what was done on the next page, with a press that posts to `action`."""
    flash({"words": words, "action": action}, "undo")


def form_answer(
    template: str,
    form: Mapping[str, str],
    kept: Any = None,
    *,
    problems: Mapping[str, str] | None = None,
    made_from: int | None = None,
    other: Mapping[str, str] | None = None,
    deleted: bool = False,
    **shown: object,
) -> Response:
    """A form with all that was typed still there: 422 with problems, 409 where somebody else was faster.

    kept: the thing that is changed, None for a new one; its version stands in the form unless made_from does. other: by
    field, what is kept now where it differs from what was typed; given only on a clash.
    """
    values = {
        "form": form,
        "problems": problems or {},
        "other": other or {},
        "clash": other is not None,
        "deleted": deleted,
        "version": made_from if made_from is not None or kept is None else kept.version,
    }
    status = 422 if problems else 409 if other is not None else 200
    return make_response(render_template(template, **values, **shown), status)


def _tidy(text: str) -> str:
    return "\n".join(line.strip() for line in text.strip().splitlines())
