"""What the organiser decides once: map tiles, address search, golden and blue hour, lamps, deadlines and letters."""

from flask import Blueprint

pages = Blueprint("settings", __name__, template_folder="templates")

from webapp.settings import views  # noqa: E402, F401  it puts its addresses on `pages`
