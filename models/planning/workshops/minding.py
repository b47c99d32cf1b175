"""What every sheet of a workshop says before all else: when, where, the wind at set-up, of whom no picture."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from models.planning.rules.typed import meeting_text, meeting_words
from models.planning.rules.what_if import span_words
from models.planning.rules.workshops import footprint_of
from models.planning.workshops.naming import who
from models.planning.workshops.people_open import model_cautions
from models.planning.workshops.running import Running
from models.planning.workshops.station_wind import StationWind, wind_of
from models.store.engine import Store
from models.street.comfort import WindOn
from models.words.minding import down_for_words, meet_words, two_places_words, wind_words
from models.words.people import Private

MATTERS: tuple[WindOn, ...] = ("hold", "down", "no stands")
"""What a page says on top; a weight on every stand is said at the set-up."""


@dataclass(frozen=True, slots=True)
class Minding:
    """when: workshop and spot. meet, meet_short: where people meet. wind: a line for stations that it does the
    same to, loud: those that go on top. no_picture: by number of the station, why none is taken of its model."""

    when: str
    meet: str
    meet_short: str
    wind: tuple[str, ...]
    loud: tuple[str, ...]
    no_picture: Mapping[int, Private]

    def pictures(self, running: Running) -> tuple[Private, ...]:
        """Each caution once, with the stations its model is down for; and who would have to be in two places."""
        names, at = running.station_names, dict[Private, list[str]]()
        for number, caution in self.no_picture.items():
            at.setdefault(caution, []).append(names[number])
        return tuple(
            Private(down_for_words(each.shown, there), down_for_words(each.told, there)) for each, there in at.items()
        ) + tuple(_in_two_places(running))


def minding_of(store: Store, running: Running) -> Minding:
    """Of the stations that `running` has."""
    grounds = running.grounds
    with store.reading() as s:
        cautions = model_cautions(s, grounds.workshop, running.zone, grounds.now)
    point, by = grounds.workshop.meeting_point, grounds.plan.meets_by.strip().rstrip(".")
    place = meeting_words(point, store) or grounds.spot.name
    models = {station.id: station.model_id for station in grounds.stations}
    winds = tuple(_winds(store, running))
    return Minding(
        when=f"{span_words(footprint_of(grounds.workshop, running.zone), running.zone)}, {grounds.spot.name}",
        meet=meet_words(place, by),
        meet_short=by if by and place == meeting_text(point) else place,
        wind=tuple(line for line, _ in winds),
        loud=tuple(line for line, wind in winds if wind.advice in MATTERS),
        no_picture={station: cautions[model] for station, model in models.items() if model in cautions},
    )


def _in_two_places(running: Running) -> Iterator[Private]:
    """Attendees who stand at a station as its model and take turns too."""
    for station in running.grounds.stations:
        if station.model_id in running.attendees:
            person = who(running, station.model_id)
            yield Private(*(two_places_words(name, station.name) for name in (person.shown, person.told)))


def _winds(store: Store, running: Running) -> Iterator[tuple[str, StationWind]]:
    at: dict[StationWind, list[str]] = {}
    for number, name in running.station_names.items():
        wind = wind_of(store, running.grounds, running.lights.get(number))
        if wind is not None and (wind.done or wind.advice is None):
            at.setdefault(wind, []).append(name)
    for wind, names in at.items():
        yield wind_words(names, wind.words, wind.done), wind
