"""Briefings behind links that nobody can guess: what readers open, and the links as the organiser makes them."""

from flask import Blueprint

pages = Blueprint("shared_briefing", __name__, template_folder="templates")

from webapp.shared_briefing import links, paper, public  # noqa: E402, F401  they put addresses on `pages`
