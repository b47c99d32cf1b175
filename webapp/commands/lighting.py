"""One spot at one moment on the terminal: what its page says."""

from __future__ import annotations

import click
from flask.cli import with_appcontext

from models.light.flash import FlashAnswer
from models.planning.answers import RestsOn
from models.planning.keeping import find_spot
from models.planning.spot_answers import FacingRow, SpotPage
from models.planning.spot_page import spot_page
from models.planning.street.sky import under_weather
from models.words.said import signed_minus
from webapp.answering import now, store
from webapp.commands.options import as_json, moment_of, said, with_moment, with_sentence
from webapp.commands.terminal import say, say_json, table, with_problems_said
from webapp.marks import signed

HEAD = ("camera looks", "face EV100", "behind EV100", "in hand, stops", "what binds", "sun")


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
    moment = under_weather(store(), moment_of(found.zone, on, at, sky, fold), found.id, now())
    page = spot_page(store(), found.id, moment, said(sentence), now())
    if as_json:
        return say_json(page)
    return _say(page)


def _say(page: SpotPage) -> None:
    say(page.answer.text)
    say()
    say(page.sentence.text)
    say("Dial: " + ", ".join(f"{name} {value}" for name, value in page.dial.figures) + ".")
    for line in page.dial.lines:
        say(line)
    _say_ways(page.flash)
    say()
    say("Which way to face them, best first:")
    table(HEAD, map(_line, page.facing))
    say()
    for line in (page.rules.said.text, *page.cautions, _rests(page.rests_on)):
        say(line)


def _say_ways(flash: FlashAnswer) -> None:
    """Ways out with their gain and cost, and ways to a wider aperture with what they leave."""
    if flash.ways_out:
        say("Too weak. Ways out, least trouble first:" if flash.too_weak else "Too strong. Ways out:")
    for way in flash.ways_out:
        stops = signed(way.gain_stops if flash.too_weak else -way.gain_stops)
        enough = ", enough by itself" if way.enough else ""
        say(f"  {stops} stops: {way.words}{enough}. Costs: {way.cost_words}.")
    for wider in flash.wider_apertures:
        say(f"{wider.words} Leaves {signed(wider.reserve_stops)} stops in hand.")


def _line(row: FacingRow) -> tuple[str, ...]:
    looking = f"{row.looking} *" if row.chosen else row.looking
    face, behind = signed_minus(row.face_ev, 1), signed_minus(row.behind_ev, 1)
    return looking, face, behind, signed(row.reserve_stops), row.binds, row.sun


def _rests(rests: RestsOn) -> str:
    assumed = f" Assumed: {'; '.join(rests.assumed)}." if rests.assumed else ""
    return (
        f"Rests on: sky {rests.oktas} oktas, {rests.oktas_by}; skyline {rests.skyline_source}; "
        f"{rests.readings} meter readings; give or take {rests.doubt_stops:.1f} stops.{assumed}"
    )
