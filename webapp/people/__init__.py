"""The people of a workshop: the list, one by one or pasted, releases, and erasing. Browsers keep none of it."""

from flask import Blueprint, Response

pages = Blueprint("people", __name__, template_folder="templates")


@pages.after_request
def keep_nothing(response: Response) -> Response:
    """Names and telephone numbers are left in no browser's store."""
    response.headers["Cache-Control"] = "no-store"
    return response


from webapp.people import changing, erasing, importing, releases, showing  # noqa: E402, F401  addresses on `pages`
