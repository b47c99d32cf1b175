"""How often links are opened, and how often a wrong one is tried.

Wrong ones are counted by themselves: however many were tried from an address, a right one opens there, so that nobody
is locked out by a neighbour. That it is right tells a guesser no more than the page itself would.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from flask import Response, current_app, g, make_response, render_template, request

from models.planning.briefing.shares import shared
from models.store.versions import Missing
from webapp.account.limits import reader
from webapp.answering import now, store
from webapp.security import behind_a_link, limiter

View = TypeVar("View", bound=Callable[..., Any])


def limited(view: View) -> View:
    """For one reader; a class behind one address of a telephone network still opens its links."""
    opening, guessing = _shared("BRIEFING"), _shared("BRIEFING_WRONG", deduct_when=_was_wrong, exempt_when=_is_right)
    kept: View = guessing(opening(view))
    return kept


def seldom(view: View) -> View:
    """For files that take a while to make."""
    kept: View = _shared("BRIEFING_FILE")(view)
    return kept


def _shared(name: str, **when: Any) -> Any:
    """One count for all views that name it."""
    return limiter.shared_limit(
        lambda: current_app.config[f"RATELIMIT_{name}"], name, key_func=_counted_for, on_breach=_too_many, **when
    )


def _counted_for() -> str:
    return f"{reader()} {'right' if _is_right() else 'wrong'}"


def _is_right() -> bool:
    """Whether the link opens, looked up once a request."""
    token = (request.view_args or {}).get("token", "")
    if "link_is_right" not in g:
        try:
            g.link_is_right = bool(shared(store(), current_app.config["SECRET_KEY"], token, now()))
        except Missing:
            g.link_is_right = False
    return bool(g.link_is_right)


def _was_wrong(response: Response) -> bool:
    return response.status_code == 404


def plain(title: str, what: str, status: int) -> Response:
    """A page that tells nothing of the program."""
    behind_a_link()
    return make_response(render_template("nothing_here.html", title=title, what=what), status)


def _too_many(_limit: object) -> Response:
    return plain("Too many tries", "Wait ten minutes, then open the link again.", 429)
