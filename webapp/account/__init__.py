"""Signing in and out, the link that works once, and the page of browsers that are signed in."""

from flask import Blueprint

pages = Blueprint("account", __name__, template_folder="templates")

from webapp import gate  # noqa: E402
from webapp.account import showing, signing_in  # noqa: E402, F401  they put addresses on `pages`


@pages.app_context_processor
def reader() -> dict[str, object]:
    return {"signed_in": gate.signed_in()}
