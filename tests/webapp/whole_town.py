"""The demo town with one of everything that a page can be about, and every address of the program in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

import sqlalchemy as sa
from flask import Flask
from sqlalchemy.orm import Session

from models.planning.briefing.shares import make_links, token_of
from models.planning.gear.keeping import BY_NAME
from models.rules.enquiry import Enquiry
from models.store import rules, street, weather
from models.store.engine import Store
from models.store.kit import list_kit
from models.store.people import list_releases, people, people_by_workshop, people_of, release_shelf
from models.store.rules.files import files_of, store_file
from models.store.setups import list_setups
from models.store.spots import list_spots
from models.store.stations import stations_of
from models.street.weather import WeatherHour
from models.workshop.briefing import READERS
from models.workshop.person import ReleaseDraft
from tests.webapp.conftest import NOW

OURS = "Quillwort"
"""Stands in all that is personal of everybody, and nowhere else."""
PERSONAL = ("name", "contact", "emergency_contact", "access_needs", "guardian", "owed_from", "owed_route", "notes")
Known = Mapping[str, tuple[object, ...]]

IN_VIEW = {"bbox": "5.22,52.52,5.24,52.54"}
ASKED = {
    **{f"maps.{drawn}": IN_VIEW for drawn in ("areas", "buildings", "footways", "shadows", "spots")},
    "enquiries.new_step": {"state": "granted"},
    "enquiries.new": {"workshop": 1, "area": 1},
    "rules.new_rule": {"area": 1},
    "workshops.new": {"spot": 2},
    "setups.new": {"spot": 2},
    "setups.setup": {"spot": 2},
    "setups.when": {"spot": 2},
    "setups.when_json": {"spot": 2},
}
"""What an address has to be asked, or shows more with, by endpoint."""


def fill(store: Store) -> None:
    """The demo's workshop with people gets names to look for, a release and links; an enquiry its paper."""
    with store.writing() as s:
        workshop_id = _peopled(s)
        for person in people_of(s, workshop_id):
            told = {name: f"{OURS} {name} {person.id}" for name in PERSONAL}
            s.execute(sa.update(people).where(people.c.id == person.id).values(told))
        paper = {"signed_on": date(2026, 10, 1), "by_whom": f"{OURS} Ida", "for_whom": f"{OURS} Ida", "uses": ("web",)}
        person_id = people_of(s, workshop_id)[0].id
        release_shelf.add(s, ReleaseDraft(workshop_id=workshop_id, person_id=person_id, **paper))
        enquiry = _sent(s)
        store_file(s, enquiry.id, "permit.pdf", "application/pdf", b"%PDF-1.4\n", now=NOW)
        hour = WeatherHour(starts=NOW, oktas=2, wind_m_s=3.0, temperature_c=11.0)
        weather.shelf.add(s, weather.draft_of(_counted(s)[0], hour, NOW))
    make_links(store, workshop_id, READERS, NOW)


def known(store: Store, secret: str) -> dict[str, tuple[object, ...]]:
    """By the words of addresses what may stand there; the first of each belong together."""
    with store.reading() as s:
        workshop_id, (spot_id, count_id), enquiry = _peopled(s), _counted(s), _sent(s)
        flash = list_kit(s, BY_NAME["flashes"].piece)[0]
        found: dict[str, tuple[object, ...]] = {
            "workshop_id": (workshop_id, *(each.id for each in rules.list_workshops(s))),
            "person_id": tuple(each.id for each in people_of(s, workshop_id)),
            "release_id": tuple(each.id for each in list_releases(s)),
            "station_id": tuple(each.id for each in stations_of(s, workshop_id)),
            "spot_id": (spot_id, *(each.id for each in list_spots(s))),
            "count_id": (count_id,),
            "hour_id": (_hour(s),),
            "enquiry_id": (enquiry.id, *(each.id for each in rules.list_enquiries(s))),
            "file_id": tuple(each.id for each in files_of(s, enquiry.id)),
            "area_id": tuple(each.id for each in rules.list_areas(s, limit=None)),
            "rule_id": tuple(each.id for each in rules.list_rules(s)),
            "paper_id": tuple(each.id for each in rules.list_papers(s)),
            "setup_id": tuple(each.id for each in list_setups(s)),
            "kind_name": ("flashes", *BY_NAME),
            "item_id": (flash.id,),
        }  # fmt: skip
    tokens = tuple(token_of(store, secret, workshop_id, reader, NOW) for reader in READERS)
    return found | {"token": tokens, "reader": READERS, "link": ("no-link",), "filename": ("css/kerbstand.css",),
                    "name": ("leaflet.js",)}  # fmt: skip


def addresses(app: Flask, words: Known, *, most: int = 1) -> Iterator[tuple[str, str]]:
    """(endpoint, address) of everything that answers to GET; at most so many of one endpoint. KeyError names a word
    of an address that `known` lacks."""
    builder = app.url_map.bind("localhost")
    for rule in app.url_map.iter_rules():
        if "GET" not in (rule.methods or ()):
            continue
        asked = ASKED.get(rule.endpoint, {})
        for values in _values(sorted(rule.arguments), words, most):
            yield rule.endpoint, builder.build(rule.endpoint, values | asked, method="GET")


def _values(names: list[str], words: Known, most: int) -> list[dict[str, object]]:
    if len(names) != 1:
        return [{name: words[name][0] for name in names}]
    return [{names[0]: word} for word in dict.fromkeys(words[names[0]])][:most]


def _peopled(s: Session) -> int:
    numbers = [each.id for each in rules.list_workshops(s)]
    return max(people_by_workshop(s, numbers).items(), key=lambda one: len(one[1]))[0]


def _counted(s: Session) -> tuple[int, int]:
    """A spot and a count there."""
    there = street.counts_by_spot(s, [each.id for each in list_spots(s)])
    return next((spot_id, counts[0].id) for spot_id, counts in there.items())


def _sent(s: Session) -> Enquiry:
    return rules.list_enquiries(s, "asked")[0]


def _hour(s: Session) -> int:
    return s.scalar(sa.select(weather.hours.c.id)) or 0
