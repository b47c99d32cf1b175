"""Rules: areas with their rules, the forms that change them, what a file brings in, and what holds at a spot."""

from flask import Blueprint

pages = Blueprint("rules", __name__, template_folder="templates")

from webapp.rules import areas, findings, importing, marks, rules  # noqa: E402, F401  they put addresses on `pages`
