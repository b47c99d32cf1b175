"""Deadlines: all that must be asked, by date, as a page and as a calendar file."""

from flask import Blueprint

pages = Blueprint("deadlines", __name__, template_folder="templates")

from webapp.deadlines import showing  # noqa: E402, F401  it puts addresses on `pages`
