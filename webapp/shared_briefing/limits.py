"""How often links are opened, and how often a wrong one is tried."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from flask import Response, current_app, make_response, render_template

from webapp.account.limits import reader
from webapp.security import behind_a_link, limiter

View = TypeVar("View", bound=Callable[..., Any])


def limited(view: View) -> View:
    """For one reader; a class behind one address of a telephone network still opens its links."""
    opening, guessing = _shared("BRIEFING"), _shared("BRIEFING_WRONG", deduct_when=_was_wrong)
    kept: View = guessing(opening(view))
    return kept


def seldom(view: View) -> View:
    """For files that take a while to make."""
    kept: View = _shared("BRIEFING_FILE")(view)
    return kept


def _shared(name: str, **when: Any) -> Any:
    """One count for all views that name it."""
    return limiter.shared_limit(
        lambda: current_app.config[f"RATELIMIT_{name}"], name, key_func=reader, on_breach=_too_many, **when
    )


def _was_wrong(response: Response) -> bool:
    return response.status_code == 404


def plain(title: str, what: str, status: int) -> Response:
    """A page that tells nothing of the program."""
    behind_a_link()
    return make_response(render_template("nothing_here.html", title=title, what=what), status)


def _too_many(_limit: object) -> Response:
    return plain("Too many tries", "Wait ten minutes, then open the link again.", 429)
