"""Papers to carry: insurance, grants, releases (counted, not stored), and which lapse before which workshop."""

from flask import Blueprint

pages = Blueprint("papers", __name__, template_folder="templates")

from webapp.papers import changing, showing  # noqa: E402, F401  they put addresses on `pages`
