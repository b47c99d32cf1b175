"""Kit: what is owned, the forms that change it, files in and out, and readings of your own flashes."""

from flask import Blueprint

pages = Blueprint("kit", __name__, template_folder="templates")

from webapp.kit import changing, files, listing, readings  # noqa: E402, F401  they put addresses on `pages`
