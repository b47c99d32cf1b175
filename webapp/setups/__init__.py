"""Setups of lights: the list, one in the light of a spot, the forms that add and change them, the cards."""

from flask import Blueprint

pages = Blueprint("setups", __name__, template_folder="templates")

from webapp.setups import adding, changing, over_time, showing  # noqa: E402, F401  they put addresses on `pages`
