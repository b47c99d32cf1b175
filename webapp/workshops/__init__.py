"""Workshops as far as rules go: the list, one with what is still open, and the forms that add and change them."""

from flask import Blueprint

pages = Blueprint("workshops", __name__, template_folder="templates")

from webapp.workshops import changing, keeping, showing  # noqa: E402, F401  they put addresses on `pages`
