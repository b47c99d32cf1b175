"""The briefing as its organiser sees it: what each reader gets, its texts, its versions, and ways to hand it out."""

from flask import Blueprint

from models.clock import day_words
from webapp.answering import keep_nothing

pages = Blueprint("briefings", __name__, template_folder="templates")
pages.add_app_template_filter(day_words)
pages.after_request(keep_nothing)

from webapp.briefing import places, printed, showing, texts  # noqa: E402, F401  they put addresses on `pages`
