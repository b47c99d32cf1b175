"""The stations of a workshop: the list with what each rests on, and the forms that add and change them."""

from flask import Blueprint

pages = Blueprint("stations", __name__, template_folder="templates")

from webapp.stations import changing, showing  # noqa: E402, F401  they put addresses on `pages`
