"""How a workshop runs: its running order, who is where when, the day itself, batteries, and the leaf for trouble."""

from flask import Blueprint, current_app

from webapp.answering import keep_nothing

pages = Blueprint("running", __name__, template_folder="templates")
pages.after_request(keep_nothing)

PARTS = (
    ("running.order", "Running order"),
    ("running.rota", "Who is where when"),
    ("running.day", "On the day"),
    ("running.batteries", "Batteries"),
    ("running.leaf", "If things go wrong"),
)


@pages.app_template_global("running_parts")
def running_parts() -> list[tuple[str, str]]:
    """Those that have a page."""
    return [part for part in PARTS if part[0] in current_app.view_functions]


from webapp.running import day, order, rota, trouble  # noqa: E402, F401  they put addresses on `pages`
