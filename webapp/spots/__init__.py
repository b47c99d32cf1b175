"""Spots: the list with its map, one spot, its times, and the forms that add and change them."""

from flask import Blueprint

pages = Blueprint("spots", __name__, template_folder="templates")

from webapp.spots import adding, changing, listing, showing, times  # noqa: E402, F401  they put addresses on `pages`
