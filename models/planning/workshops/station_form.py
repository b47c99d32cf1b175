"""A station as typed in its form: every field read, every problem named at once, nothing half-saved."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from models.planning.places import read_place
from models.planning.rules.typed import NUMBERS
from models.planning.sentence import bearing_words, read_length, read_looking
from models.planning.workshops.durations import duration_text, read_duration
from models.planning.workshops.stations import next_letter
from models.problems import InputProblem, InputProblems, noted
from models.store.engine import Store
from models.store.people import people_of
from models.store.rules import get_workshop
from models.store.setups import list_setups
from models.store.setups import shelf as setup_shelf
from models.store.spots import Spot
from models.store.spots import shelf as spots
from models.store.stations import stations_of
from models.workshop.station import MOST_HANDS, Station, StationDraft, checked_station

FORM_FIELDS = {"setup_id": "setup", "model_id": "model", "place": "shape", "looking_deg": "looking", "depth_m": "depth",
               "width_m": "width", "pose_s": "pose"}  # fmt: skip
"""Fields of the form, by those of the station. The place goes by the name that the map writes presses to."""
AROUND_DEG = 0.0007
"""How far round the spot the map of a station's form shows."""

Choices = tuple[tuple[str, str], ...]
Read = Callable[[str], object]


@dataclass(frozen=True, slots=True)
class StationForm:
    """What the form needs beside its values. around: south, west, north, east of what the map shows first."""

    spot: Spot
    setups: Choices
    models: Choices
    around: tuple[float, float, float, float]


def form_needs(store: Store, workshop_id: int, chosen: int | None = None) -> StationForm:
    """chosen: the number of the setup as kept, which may have been deleted meanwhile. Raises Missing."""
    with store.reading() as s:
        spot = spots.find(s, get_workshop(s, workshop_id).spot_id)[0]
        setups = tuple((str(setup.id), setup.title) for setup in list_setups(s))
        if chosen is not None and str(chosen) not in dict(setups):
            gone = setup_shelf.these(s, [chosen]).values()
            setups += tuple((str(setup.id), f"{setup.title} (deleted)") for setup in gone)
    models = tuple((str(number), name) for number, name in models_named(store, workshop_id).items())
    lat, lon = spot.latitude_deg, spot.longitude_deg
    around = (lat - AROUND_DEG, lon - AROUND_DEG, lat + AROUND_DEG, lon + AROUND_DEG)
    return StationForm(spot, (("", "not chosen yet"), *setups), (("", "not chosen yet"), *models), around)


def models_named(store: Store, workshop_id: int) -> dict[int, str]:
    """Names by number of those who stand before the camera, erased ones left out. For pages, never for JSON."""
    with store.reading() as s:
        people = people_of(s, workshop_id)
    return {person.id: person.name for person in people if person.models and person.erased_on is None}


def new_station_form(store: Store, workshop_id: int) -> dict[str, str]:
    """The next free letter filled in, one watcher."""
    with store.reading() as s:
        return {"name": next_letter(stations_of(s, workshop_id)), "watchers": "1"}


def read_station_form(store: Store, workshop_id: int, form: Mapping[str, str]) -> StationDraft:
    """Raises InputProblems with a message beside each field that needs another look."""
    problems: dict[str, str] = {}
    values: dict[str, object] = {field: form.get(field, "") for field in ("name", "lesson", "notes")}
    for field, reader in READERS.items():
        name = FORM_FIELDS.get(field, field)
        with noted(problems, name):
            values[field] = reader(form.get(name, ""))
    with noted(problems, "model"):
        _must_stand(values.get("model_id"), models_named(store, workshop_id))
    if not problems:
        try:
            return checked_station(StationDraft(workshop_id=workshop_id, **values))  # type: ignore[arg-type]
        except InputProblem as problem:
            problems[FORM_FIELDS.get(problem.field, problem.field)] = problem.message
    raise InputProblems(problems)


def station_form_of(store: Store, station: Station) -> dict[str, str]:
    """What the form shows; read back it gives the same station. A model that is not there any more is not chosen."""
    stands = station.model_id in models_named(store, station.workshop_id)
    return {
        "name": station.name,
        "setup": _text(station.setup_id),
        "model": _text(station.model_id) if stands else "",
        "shape": "" if station.place is None else f"{station.place[0]:.6f}, {station.place[1]:.6f}",
        "looking": "" if station.looking_deg is None else f"{station.looking_deg:.10g}",
        "depth": _length_text(station.depth_m),
        "width": _length_text(station.width_m),
        "holders": _text(station.holders),
        "watchers": _text(station.watchers),
        "pose": duration_text(station.pose_s, "s"),
        "lesson": station.lesson,
        "notes": station.notes,
    }


def understood(form: Mapping[str, str]) -> dict[str, str]:
    """By field, how what was typed is taken; what is empty or cannot be read is left out."""
    said: dict[str, str] = {}
    with noted({}, "looking"):
        looking = read_looking(form.get("looking", ""))
        said |= {} if looking is None else {"looking": f"the camera looks {bearing_words(looking)}"}
    for name in ("depth", "width"):
        metres = read_length(form.get(name, ""))
        said |= {} if metres is None else {name: f"{metres:.2f} m"}
    with noted({}, "shape"):
        place = _place(form.get("shape", ""))
        said |= {"shape": f"{place[0]:.6f}, {place[1]:.6f}" if place else "at the spot's own point"}
    return said


def _must_stand(model_id: object, names: Mapping[int, str]) -> None:
    if model_id is not None and model_id not in names:
        raise InputProblem("model", "is nobody who stands as a model in this workshop. Choose again.")


def _place(text: str) -> tuple[float, float] | None:
    """The last line that is written; None where nothing is."""
    lines = [line for line in text.splitlines() if line.strip()]
    return read_place(lines[-1]) if lines else None


def _chosen(text: str) -> int | None:
    typed = text.strip()
    if not typed:
        return None
    if not (typed.isascii() and typed.isdecimal() and len(typed) < 10):
        raise InputProblem("", f"“{typed[:40]}” is not one of the list. Choose again.")
    return int(typed)


def _metres(text: str) -> float | None:
    if not text.strip():
        return None
    metres = read_length(text)
    if metres is None:
        raise InputProblem("", f"“{text.strip()[:40]}” is not a length. Type it like 1.5 m, 5 ft or 48 in.")
    return metres


def _hands(text: str) -> int | None:
    """How many, from '2', 'two', 'none'."""
    typed = text.strip().lower()
    word = {"none": "no", "zero": "no", "nobody": "no"}.get(typed, typed)
    if not typed:
        return None
    if word in NUMBERS:
        return NUMBERS.index(word)
    if not (typed.isascii() and typed.isdecimal() and len(typed) < 4):
        raise InputProblem("", f"“{text.strip()[:40]}” is not a number of people: give 0 to {MOST_HANDS}.")
    return int(typed)


READERS: dict[str, Read] = {
    "setup_id": _chosen,
    "model_id": _chosen,
    "place": _place,
    "looking_deg": read_looking,
    "depth_m": _metres,
    "width_m": _metres,
    "holders": _hands,
    "watchers": lambda text: 1 if (hands := _hands(text)) is None else hands,
    "pose_s": lambda text: read_duration("pose", text, "s") if text.strip() else None,
}


def _text(value: int | None) -> str:
    return "" if value is None else str(value)


def _length_text(metres: float | None) -> str:
    return "" if metres is None else f"{metres:.10g} m"
