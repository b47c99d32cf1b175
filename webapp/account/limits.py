"""How often a passphrase may be tried."""

from __future__ import annotations

import ipaddress
from collections.abc import Callable
from typing import Any, TypeVar

from flask import Response, current_app, request

from webapp.errors import Trouble, show
from webapp.security import limiter

View = TypeVar("View", bound=Callable[..., Any])
TOO_MANY = Trouble(
    429,
    "Too many tries",
    "A passphrase was tried too often in a row. Nothing was looked at this time, right or wrong.",
    "Wait ten minutes. If it is lost, run kerbstand sign-in on the machine that Kerbstand runs on.",
)


def seldom(view: View) -> View:
    """So often for one reader, and so often for all together: many machines guess no faster than a few."""
    for_one = limiter.shared_limit(
        lambda: current_app.config["RATELIMIT_SIGN_IN"], "sign-in", key_func=reader, on_breach=_too_many
    )
    for_all = limiter.shared_limit(
        lambda: current_app.config["RATELIMIT_SIGN_IN_ALL"], "sign-in", key_func=lambda: "all", on_breach=_too_many
    )
    limited: View = for_all(for_one(view))
    return limited


def reader() -> str:
    """The network address; of IPv6 the /64, all of which one reader may have."""
    try:
        address = ipaddress.ip_address(request.remote_addr or "")
    except ValueError:
        return "unknown"
    if address.version == 4:
        return str(address)
    return str(address.ipv4_mapped or ipaddress.ip_network((address, 64), strict=False))


def _too_many(_limit: object) -> Response:
    return show(TOO_MANY)
