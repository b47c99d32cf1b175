"""Enquiries: what was asked of whom, how it stands, the letter to copy, and the files that came back."""

from flask import Blueprint

pages = Blueprint("enquiries", __name__, template_folder="templates")

from webapp.enquiries import adding, changing, files, showing, stepping  # noqa: E402, F401  they put addresses on `pages`
