"""Who is let in: with sign-in on, everybody signed in, and to what is marked public, everybody.

    @pages.get("/for/<token>")
    @public
    def for_readers(token): ...

Beside such views PUBLIC holds what has no view of ours.
"""

from __future__ import annotations

import ipaddress
from collections.abc import Callable
from typing import Any, TypeVar

from flask import Flask, Response, current_app, g, make_response, redirect, render_template, request, url_for
from werkzeug.exceptions import SecurityError

from models.planning.account.signing_in import LONGEST, who
from models.store.account import SignIn
from webapp.address import own_path
from webapp.answering import now, store, wants_json
from webapp.errors import TROUBLES, show

View = TypeVar("View", bound=Callable[..., Any])
PUBLIC = frozenset({"static"})
"""Style sheets, scripts and pictures of the program itself, by endpoint."""

LONGEST_PATH = 2000
READS = ("GET", "HEAD")
COOKIE = "kerbstand-sign-in"


def public(view: View) -> View:
    """Marks a view that answers without sign-in, in every way it is asked: nobody's names or plans may be in it."""
    view.is_public = True  # type: ignore[attr-defined]
    return view


def public_endpoints(app: Flask) -> set[str]:
    """Everything that answers without sign-in."""
    return PUBLIC | {name for name, view in app.view_functions.items() if getattr(view, "is_public", False)}


def ask() -> Response | None:
    """Before anything else of a request: who asks, and unless they may, what they are told instead."""
    if not current_app.config["SIGN_IN"]:
        _must_come_from_this_machine()
    token = request.cookies.get(cookie_name(), "")
    g.signed_in = who(store(), token, now()) if token and request.endpoint != "static" else None
    if not current_app.config["SIGN_IN"] or g.signed_in or _is_public():
        return None
    if wants_json() or (request.method in READS and request.path.endswith(".js")):
        return show(TROUBLES[401])
    if request.method in READS:
        return redirect(url_for("account.sign_in_form", next=_back()), 303)
    return make_response(render_template("signed_out.html"), 401)


def signed_in() -> SignIn | None:
    """The sign-in of the browser that asks."""
    found: SignIn | None = g.get("signed_in")
    return found


def keep(response: Response, token: str) -> Response:
    """The response with the token of a new sign-in in its cookie."""
    seconds = int(LONGEST.total_seconds())
    response.set_cookie(cookie_name(), token, max_age=seconds, secure=_secure(), httponly=True, samesite="Lax")
    return response


def forget(response: Response) -> Response:
    """The response with no sign-in in its cookie, and nothing left of the pages in the browser's cache."""
    response.delete_cookie(cookie_name(), secure=_secure(), httponly=True, samesite="Lax")
    response.headers["Clear-Site-Data"] = '"cache"'
    return response


def cookie_name() -> str:
    """Over HTTPS with the prefix by which browsers take it from this very host and over HTTPS only."""
    return f"__Host-{COOKIE}" if _secure() else COOKIE


def _back() -> str | None:
    """Where the reader wanted to go, None for the front page and for more than an address holds."""
    wanted = request.full_path.rstrip("?")
    return own_path(wanted) if wanted != "/" and len(wanted) <= LONGEST_PATH else None


def _secure() -> bool:
    https: bool = current_app.config["HTTPS"]
    return https


def _is_public() -> bool:
    view = current_app.view_functions.get(request.endpoint or "")
    return request.endpoint in PUBLIC or getattr(view, "is_public", False)


def _must_come_from_this_machine() -> None:
    """However the program was started: without sign-in nobody else is answered, whatever Host they name."""
    try:
        address = ipaddress.ip_address(request.remote_addr or "")
    except ValueError:
        raise SecurityError from None
    mapped = getattr(address, "ipv4_mapped", None)
    if not (mapped or address).is_loopback:
        raise SecurityError
