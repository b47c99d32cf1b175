"""Who is lent as a hand in a rota that lacks some, by name, and what that leaves lacking."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from models.planning.workshops.naming import who
from models.planning.workshops.running import Running
from models.words import rota as words
from models.words.people import Private
from models.workshop.lending import ORGANISER, lent_by
from models.workshop.ways import Loan

Lent = Mapping[tuple[int, int], tuple[int, ...]]
"""By (round of the rota, station): who lends a hand there."""


def lenders_of(running: Running) -> tuple[int, ...]:
    """Helpers who stand at no station as a model, then the organiser where the plan says so."""
    models = {station.model_id for station in running.grounds.stations}
    helpers = tuple(one.id for one in running.people if one.part == "helper" and one.id not in models)
    return (*helpers, ORGANISER) if running.grounds.plan.organiser_helps else helpers


def lent_words(running: Running, loans: Iterable[Loan], first: int = 1) -> tuple[Private, ...]:
    """A sentence for everybody who is lent, and one for what lacks still. first: number of the rota's first round."""
    loans = tuple(loans)
    lent = lent_by(loans, lenders_of(running))
    names = running.station_names
    places: dict[int, list[tuple[str, int]]] = {}
    for (number, post), people in lent.items():
        for person in people:
            places.setdefault(person, []).append((names[post], number + first - 1))
    found = []
    for person, there in places.items():
        name = who(running, person)
        shown, told = (words.lends_words(text, there) for text in (name.shown, name.told))
        found.append(Private(shown, told))
    lacking = [
        (names[loan.post], loan.round + first - 1, loan.hands - len(lent[loan.round, loan.post]))
        for loan in loans
        if loan.hands > len(lent[loan.round, loan.post])
    ]
    if lacking:
        found.append(Private(*[words.still_lacking_words(lacking)] * 2))
    return tuple(found)
