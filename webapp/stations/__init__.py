"""The stations of a workshop: the list with what each rests on, and the forms that add and change them."""

from flask import Blueprint

from webapp.answering import keep_nothing

pages = Blueprint("stations", __name__, template_folder="templates")
pages.after_request(keep_nothing)

from webapp.stations import changing, showing  # noqa: E402, F401  they put addresses on `pages`
