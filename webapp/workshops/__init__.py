"""Workshops: the list, one with what is still open, its plan, and the forms that add, change and move them."""

from flask import Blueprint

from webapp.answering import keep_nothing

pages = Blueprint("workshops", __name__, template_folder="templates")
pages.after_request(keep_nothing)

from webapp.workshops import changing, keeping, moving, plan, showing  # noqa: E402, F401  they put addresses on `pages`
