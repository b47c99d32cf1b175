"""One spot at one moment on the terminal: what its page says."""

from __future__ import annotations

import click
from flask.cli import with_appcontext

from models.planning.answers import RestsOn
from models.planning.keeping import find_spot
from models.planning.spot_answers import FacingRow, SpotPage
from models.planning.spot_page import spot_page
from webapp.answering import store
from webapp.commands.options import as_json, moment_of, said, with_moment, with_sentence
from webapp.commands.terminal import say, say_json, table, with_problems_said
from webapp.marks import signed


@click.command()
@click.argument("spot")
@with_moment
@with_sentence
@as_json
@with_appcontext
@with_problems_said
def light(
    spot: str, on: str | None, at: str | None, sky: str | None, fold: str | None, as_json: bool, **sentence: str | None
) -> None:
    """Say how bright it is at SPOT (its number or name) at a moment, and whether the flash beats it."""
    found = find_spot(store(), spot)
    page = spot_page(store(), found.id, moment_of(found.zone, on, at, sky, fold), said(sentence))
    if as_json:
        return say_json(page)
    return _say(page)


def _say(page: SpotPage) -> None:
    say(page.answer.text)
    say()
    say(page.sentence.text)
    say("Dial: " + ", ".join(f"{name} {value}" for name, value in page.dial.figures) + ".")
    for line in (*page.dial.lines, *(way.words for way in page.flash.ways_out)):
        say(line)
    say()
    say("Which way to face them, best first:")
    table(("camera looks", "face EV", "behind EV", "in hand", "what binds", "sun"), map(_line, page.facing))
    say()
    for line in (page.not_checked, *page.cautions, _rests(page.rests_on)):
        say(line)


def _line(row: FacingRow) -> tuple[str, ...]:
    looking = f"{row.looking} *" if row.chosen else row.looking
    return looking, f"{row.face_ev:.1f}", f"{row.behind_ev:.1f}", signed(row.reserve_stops), row.binds, row.sun


def _rests(rests: RestsOn) -> str:
    assumed = f" Assumed: {'; '.join(rests.assumed)}." if rests.assumed else ""
    return (
        f"Rests on: sky {rests.oktas} oktas, {rests.oktas_by}; skyline {rests.skyline_source}; "
        f"{rests.readings} meter readings; give or take {rests.doubt_stops:.1f} stops.{assumed}"
    )
