"""Times worth booking, on the terminal."""

from __future__ import annotations

import click
from flask.cli import with_appcontext

from models.light.windows import WANTS
from models.planning.keeping import find_spot
from models.planning.times import TimesPage, booking_times
from webapp.answering import now, store
from webapp.commands.options import as_json, said, with_sentence
from webapp.commands.terminal import say, say_json, with_problems_said


@click.command()
@click.argument("spot", required=False)
@click.option("--from", "from_", help="First day: 2026-10-17, 17.10., tomorrow. Today unless said.")
@click.option("--to", help="Last day. Four weeks on unless said.")
@click.option("--days", help="Weekdays, like Sat,Sun.")
@click.option("--after", help="Not before this clock time.")
@click.option("--before", help="Not after this clock time.")
@click.option("--length", help="Minutes it takes.")
@click.option("--want", help=f"One of {', '.join(WANTS)}.")
@click.option("--least", help="Least stops in hand to be offered.")
@with_sentence
@as_json
@with_appcontext
@with_problems_said
def times(spot: str | None, from_: str | None, as_json: bool, **asked: str | None) -> None:
    """Rank the times worth booking at SPOT (its number or name), or across all spots: "all", or none named."""
    found = find_spot(store(), spot).id if spot and spot != "all" else None
    page = booking_times(store(), found, said({"from": from_, **asked}), now())
    if as_json:
        return say_json(page)
    return _say(page)


def _say(page: TimesPage) -> None:
    say(page.answer.text)
    for number, row in enumerate(page.rows, start=1):
        say()
        say(f"{number}. {row.words}" if page.spot else f"{number}. {row.name}: {row.words}")
        for reason in (*row.reasons, *(f"against it: {words}" for words in row.against)):
            say(f"   {reason}")
    say()
    for line in (*page.unmet, *page.left_out, page.rests_on):
        say(line)
