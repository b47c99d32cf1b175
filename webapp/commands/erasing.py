"""Erasing what is personal and past its last day, from the terminal."""

from __future__ import annotations

import click
from flask.cli import with_appcontext

from models.planning.workshops.erasing import GOES_WITH_THE_LAST, STAY, due_for_erasing, due_words, erase_due
from models.words.people import erased_words
from webapp.answering import now, store
from webapp.commands.terminal import demo_town, say, with_problems_said


@click.command()
@click.option("--check", is_flag=True, help="Only say what would go.")
@click.option("--demo", is_flag=True, help="In the demo town.")
@with_appcontext
@with_problems_said
def erase(check: bool, demo: bool) -> None:
    """Erase people of workshops past their last day, and releases past theirs. No name is printed."""
    where = demo_town() if demo else store()
    due = due_for_erasing(where, now())
    lines = due_words(due)
    if check:
        say(f"{erased_words(len(due.people), len(due.releases))} would be erased.".capitalize())
    else:
        say(erase_due(where, now(), always_clean=True).words)
    for line in lines:
        say(f"  {line}")
    say(GOES_WITH_THE_LAST)
    say(STAY)
    if demo:
        where.close()
