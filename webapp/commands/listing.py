"""The list of spots on the terminal."""

from __future__ import annotations

import click
from flask.cli import with_appcontext

from models.light.series import tenths
from models.planning.answers import SpotRow
from models.planning.spots import home_zone, spots_page
from models.planning.street.sky import under_weather
from models.words.spot import unknown_words
from webapp.answering import now, store
from webapp.commands.options import as_json, moment_of, said, with_moment, with_sentence
from webapp.commands.terminal import say, say_json, table, with_problems_said
from webapp.marks import signed


@click.command()
@with_moment
@with_sentence
@click.option("--sort", type=click.Choice(["name", "brightness", "reserve"]), default="name", show_default=True)
@click.option("--page", type=click.IntRange(1), default=1, show_default=True)
@as_json
@with_appcontext
@with_problems_said
def spots(
    on: str | None,
    at: str | None,
    sky: str | None,
    fold: str | None,
    sort: str,
    page: int,
    as_json: bool,
    **sentence: str | None,
) -> None:
    """List the spots with their light at a moment (now, unless said)."""
    moment = under_weather(store(), moment_of(home_zone(store()), on, at, sky, fold), None, now())
    found = spots_page(store(), moment, sort=sort, page=page, ask=said(sentence))
    if as_json:
        return say_json(found)
    say(found.answer)
    if found.rows:
        say()
        table(("no.", "spot", "state", "EV", "in hand"), map(_line, found.rows), left=3)
        say()
        say(f"Page {found.page} of {found.pages}. {found.rests_on}")
    return None


def _line(row: SpotRow) -> tuple[str, ...]:
    bright = f"{tenths(row.ev.ev100)} ±{row.ev.doubt_stops:.1f}" if row.ev else "not known"
    if row.ev and row.ev.unknown:
        bright = unknown_words(row.ev.unknown)
    hand = "not known" if row.reserve_stops is None else signed(row.reserve_stops)
    return str(row.id), row.name, row.state_words, bright, hand
