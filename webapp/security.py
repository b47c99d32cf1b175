"""What every answer carries and every change must bring: content policy, host list, tokens, size bounds."""

from __future__ import annotations

import re

from flask import Flask, Response, current_app, g, request
from flask_limiter import Limiter
from flask_limiter.util import get_remote_address
from flask_wtf import CSRFProtect
from werkzeug.exceptions import SecurityError

from webapp import gate
from webapp.config import UPLOAD_BYTES

POLICY = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self' data:",
    "connect-src": "'self'",
    "font-src": "'self'",
    "form-action": "'self'",
    "base-uri": "'none'",
    "frame-ancestors": "'none'",
    "worker-src": "'self'",
    "manifest-src": "'self'",
}
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "strict-origin-when-cross-origin",
    "Permissions-Policy": "geolocation=(self), camera=(), microphone=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
"""The referrer policy sends the bare origin to a tile server: public ones refuse pages that send none."""
BEHIND_A_LINK = {
    "Referrer-Policy": "no-referrer",
    "X-Robots-Tag": "noindex, nofollow",
    "Cache-Control": "private, no-store",
}
"""Of what an unguessable link opens: its address is told to nobody, and no cache keeps the page unasked."""
LOCKED = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'; sandbox"
LARGER_FORMS = {"enquiries.add_file": UPLOAD_BYTES}
"""By endpoint: a scanned permit is larger than a form; all else stays within FORM_BYTES."""

NO_HTTPS = "The proxy in front has to say that it was reached over HTTPS: X-Forwarded-Proto: https."
HOST = re.compile(r"(\[[0-9a-f:.]+\]|[a-z0-9.-]+)(:\d{1,5})?", re.ASCII | re.IGNORECASE)
tokens = CSRFProtect()
limiter = Limiter(get_remote_address)


def init_app(app: Flask) -> None:
    app.before_request(_refuse_strangers)
    app.before_request(gate.ask)
    app.before_request(_take_more)
    tokens.init_app(app)
    limiter.init_app(app)
    app.after_request(_with_headers)


def allow_images_from(origins: tuple[str, ...]) -> None:
    """Widen this one answer's image sources: only a page with a switched-on tile layer asks for it."""
    g.image_origins = origins


def lock_down() -> None:
    """For this one answer, a file that somebody else made: nothing in it runs or loads, and no browser keeps it."""
    g.locked = True


def behind_a_link() -> None:
    """For this one answer: it is for whoever was given its address, and for nobody else to find."""
    g.behind_a_link = True


def content_policy(image_origins: tuple[str, ...] = ()) -> str:
    """The Content-Security-Policy, with image origins added."""
    parts = dict(POLICY)
    parts["img-src"] = " ".join((parts["img-src"], *image_origins))
    return "; ".join(f"{name} {sources}" for name, sources in parts.items())


def _refuse_strangers() -> None:
    """Answer only to the listed names: a page elsewhere that points its own name at this machine reads nothing.

    Flask's TRUSTED_HOSTS cannot hold an IPv6 address and lets a malformed Host through.
    """
    found = HOST.fullmatch(request.headers.get("Host", ""))
    if not found or found[1].lower() not in current_app.config["ALLOWED_HOSTS"]:
        raise SecurityError
    if current_app.config["HTTPS"] and not request.is_secure:
        raise SecurityError(NO_HTTPS)


def _take_more() -> None:
    """Before the form is read, as the check of its token does."""
    if request.endpoint in LARGER_FORMS:
        request.max_content_length = LARGER_FORMS[request.endpoint]


def _with_headers(response: Response) -> Response:
    locked = g.get("locked", False)
    response.headers["Content-Security-Policy"] = LOCKED if locked else content_policy(g.get("image_origins", ()))
    if locked:
        response.headers["Cache-Control"] = "no-store"
    for name, value in (HEADERS | (BEHIND_A_LINK if g.get("behind_a_link") else {})).items():
        response.headers[name] = value
    response.headers.setdefault("Cache-Control", "private, no-cache" if current_app.config["SIGN_IN"] else "no-cache")
    return response
