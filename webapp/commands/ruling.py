"""What must be asked at a spot, on the terminal: what its what-if says."""

from __future__ import annotations

import click
from flask.cli import with_appcontext

from models.planning.keeping import find_spot
from models.planning.rules.findings import ActivityShown, FindingShown
from models.planning.rules.what_if_page import WhatIfPage, what_if_page
from webapp.answering import now, store
from webapp.commands.options import as_json, moment_of, said, with_moment, with_what_if
from webapp.commands.terminal import say, say_json, with_problems_said


@click.command()
@click.argument("spot")
@with_moment
@with_what_if
@as_json
@with_appcontext
@with_problems_said
def rules(
    spot: str, on: str | None, at: str | None, sky: str | None, fold: str | None, as_json: bool, **what_if: str | None
) -> None:
    """Say what must be asked, of whom and by when, before a workshop stands at SPOT (its number or name)."""
    found = find_spot(store(), spot)
    page = what_if_page(store(), found.id, moment_of(found.zone, on, at, sky, fold), said(what_if), now())
    if as_json:
        return say_json(page)
    return _say(page)


def _say(page: WhatIfPage) -> None:
    say(page.answer.text)
    say(f"{page.what_if.sentence.text} {page.what_if.more.text}")
    say(page.standing_note)
    for activity in page.activities:
        say()
        _say_activity(activity)
    say()
    for area in page.areas:
        say(f"Rule area: {area.name}, {area.kind}; {area.authority}.")
    if page.walk:
        say(f"The walk there from {page.walk.words}: {page.walk.walk.said.text}")
    for area in page.walk.areas if page.walk else ():
        say(f"On the walk, even passing with kit is to be asked about: {area.name}; {area.authority}.")
    if page.fallback and page.fallback.same_guard:
        say(f"{page.fallback.name}: same guard, no fallback: {'; '.join(page.fallback.same_guard)}.")
    for paper in page.papers:
        say(f"Paper: {paper.title}. {paper.open}".rstrip())
    say(f"Counted in {page.calendar_words}.")


def _say_activity(activity: ActivityShown) -> None:
    say(f"{activity.words}: {_answer(activity.strictest)}")
    first = activity.strictest
    for line in (first.why, first.ask, first.say, activity.way_round):
        if line:
            say(f"  {line}")
    for other in activity.others:
        say(f"  Also: {_answer(other)} {other.why}")


def _answer(finding: FindingShown) -> str:
    return f"{finding.words} ({finding.where})" if finding.where else finding.words
