"""The people of a workshop: the list, one by one or pasted, releases, and erasing. Browsers keep none of it."""

from flask import Blueprint

from webapp.answering import keep_nothing

pages = Blueprint("people", __name__, template_folder="templates")
pages.after_request(keep_nothing)

from webapp.people import changing, erasing, importing, releases, showing  # noqa: E402, F401  addresses on `pages`
