"""Measure your own: one sentence with editable words, the true figure it gives, and the readings kept of a flash."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from math import log2

from models.clock import day_words
from models.light.calibration import ReadingKind
from models.light.kit import Flash, Modifier
from models.light.measuring import FlashReading, guide_number_at, metered_flash, metered_modifier
from models.planning.gear import typed
from models.planning.gear.fields import BY_NAME
from models.planning.gear.keeping import get_piece
from models.planning.moments import read_date
from models.planning.sentence import Word, read_distance
from models.problems import InputProblem
from models.store import kit as kept
from models.store import readings as kept_readings
from models.store.engine import Store
from models.store.readings import KeptReading
from models.words.kit import SAFELY, stops_apart

PARAMETERS = ("from", "iso_read", "fraction", "behind", "head", "by", "read", "day")
"""Words of the sentence, named so that no other page takes them for its own."""
BY: tuple[tuple[ReadingKind, str], ...] = (("incident", "my meter"), ("photo", "a photo that came out right"))
BEYOND = 2
"""A reading may stand this many times beyond the zooms a flash is noted with. Common practice, no source."""
POWERS = ("1/1", "1/2", "1/4", "1/8", "1/16", "1/32", "1/64", "1/128")


@dataclass(frozen=True, slots=True)
class ReadingWords:
    """What was read, word by word. after: what ends it."""

    words: tuple[Word, ...]
    after: str = "."

    @property
    def text(self) -> str:
        return "".join(word.before + word.shown for word in self.words) + self.after

    @property
    def address(self) -> dict[str, str]:
        return {word.parameter: word.value for word in self.words if word.value}


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRow:
    """A kept reading. text: as it was taken; gives: what it says."""

    id: int
    version: int
    on: date
    text: str
    gives: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuringPage:
    """answer: what the sentence gives. so_far: what the kept readings say. complete: an aperture is given."""

    flash_id: str
    flash_name: str
    answer: str
    working: tuple[str, ...]
    sentence: ReadingWords
    so_far: tuple[str, ...]
    rows: tuple[ReadingRow, ...]
    safely: tuple[str, ...]
    complete: bool


def measuring_page(store: Store, flash_id: str, asked: Mapping[str, str], today: date) -> MeasuringPage:
    """What the reading that `asked` describes would say. Raises Missing, InputProblem naming the word."""
    flash: Flash = get_piece(store, BY_NAME["flashes"], flash_id).item
    with store.reading() as s:
        modifiers = kept.list_kit(s, Modifier)
        every = {entry.item.id: entry.item for entry in kept.list_entries(s, Modifier)}
        readings = kept_readings.list_readings(s)
    own = [reading for reading in readings if reading.flash_id == flash.id]
    complete = bool(asked.get("read", "").strip())
    reading = read_reading(flash, modifiers, asked, today)
    answer, working = _says(flash, reading, every, own) if complete else (_invitation(flash, own), ())
    return MeasuringPage(
        flash_id=flash.id,
        flash_name=flash.name,
        answer=answer,
        working=working,
        sentence=_sentence(flash, modifiers, reading, complete, today),
        so_far=tuple(note for note in _so_far(flash, every.values(), own) if note != answer),
        rows=tuple(_row(flash, each, every) for each in reversed(own)),
        safely=SAFELY,
        complete=complete,
    )


def keep_reading(store: Store, flash_id: str, asked: Mapping[str, str], today: date) -> KeptReading:
    """Raises Missing, InputProblem naming the word."""
    flash: Flash = get_piece(store, BY_NAME["flashes"], flash_id).item
    if not asked.get("read", "").strip():
        raise InputProblem("read", "say what the meter read, like f/11.")
    with store.writing() as s:
        return kept_readings.add_reading(s, read_reading(flash, kept.list_kit(s, Modifier), asked, today))


def delete_reading(store: Store, reading_id: int, version: int, *, now: datetime) -> KeptReading:
    """Put aside, with a way back. Raises Clash, Missing."""
    with store.writing() as s:
        return kept_readings.delete_reading(s, reading_id, version, now=now)


def restore_reading(store: Store, reading_id: int) -> KeptReading:
    with store.writing() as s:
        return kept_readings.restore_reading(s, reading_id)


def read_reading(flash: Flash, modifiers: tuple[Modifier, ...], asked: Mapping[str, str], today: date) -> FlashReading:
    """The reading meant; a word that is missing takes the usual start. Raises InputProblem naming the word."""
    said = {name: asked[name].strip() for name in PARAMETERS if asked.get(name, "").strip()}
    try:
        return FlashReading(
            flash_id=flash.id,
            on=_day(said.get("day", ""), today),
            distance_m=_distance(said.get("from", "2")),
            aperture=typed.aperture("read", said.get("read", "f/5.6")),
            iso=float(typed.whole("iso_read", said.get("iso_read", "100"), 6, 409_600, "100", "iso")),
            power=typed.power("fraction", said.get("fraction", "1/1")),
            zoom_mm=_zoom(flash, said.get("head", "")),
            modifier_id=_modifier(modifiers, said.get("behind", "")),
            kind=_by(said.get("by", "incident")),
        )
    except InputProblem as problem:
        field = problem.field if problem.field in PARAMETERS else "read"
        raise InputProblem(field, problem.message) from None


def _day(text: str, today: date) -> date:
    try:
        on = read_date(text, today)
    except InputProblem as problem:
        raise InputProblem("day", problem.message) from None
    if on > today:
        raise InputProblem("day", f"{day_words(on)} is still to come.")
    return on


def _distance(text: str) -> float:
    try:
        return read_distance(text)
    except InputProblem as problem:
        raise InputProblem("from", problem.message) from None


def _zoom(flash: Flash, text: str) -> float:
    if not text:
        return flash.guide_numbers[0][0]
    known = [zoom_mm for zoom_mm, _ in flash.guide_numbers]
    least_mm, most_mm = min(known) / BEYOND, max(known) * BEYOND
    zoom_mm = typed.amount("head", text, {"mm": 1.0}, typed.LEAST_ZOOM_MM, typed.MOST_ZOOM_MM, "24 mm")
    if not least_mm <= zoom_mm <= most_mm:
        raise InputProblem(
            "head",
            f"{zoom_mm:g} mm is far from any zoom noted of this flash: give {least_mm:g} to {most_mm:g} mm, or note "
            "its guide number there first.",
        )
    return zoom_mm


def _modifier(modifiers: tuple[Modifier, ...], text: str) -> str | None:
    if text.lower() in ("", "bare"):
        return None
    for modifier in modifiers:
        if text.lower() in (modifier.id.lower(), modifier.name.lower()):
            return modifier.id
    raise InputProblem(
        "behind", f"“{text[:60]}” is not in the kit. There is: {', '.join(each.id for each in modifiers)}."
    )


def _by(text: str) -> ReadingKind:
    for key, words in BY:
        if text in (key, words):
            return key
    raise InputProblem("by", "a reading is by a meter or by a photo that came out right.")


def _sentence(
    flash: Flash, modifiers: tuple[Modifier, ...], reading: FlashReading, complete: bool, today: date
) -> ReadingWords:
    zoom = f"{reading.zoom_mm:g}"
    zooms = dict.fromkeys([zoom, *(f"{mm:g}" for mm, _ in flash.guide_numbers)])
    behinds = (("", "bare"), *((each.id, f"behind {each.name}") for each in modifiers))
    metres = typed.number_text(round(reading.distance_m, 3))
    power = typed.part_text(reading.power) if reading.power < 1 else "1/1"
    iso = f"{reading.iso:g}"
    read = f"f/{reading.aperture:g}" if complete else ""
    words = [
        Word("At ", "from", "distance to the meter", metres, f"{metres} m",
             tuple((d, f"{d} m") for d in ("1", "1.5", "2", "3")), free=True),
        Word(", ", "iso_read", "ISO", iso, f"ISO {iso}", (("100", "ISO 100"), ("200", "ISO 200")), free=True),
        Word(", ", "fraction", "power", power, _power_words(power),
             tuple((p, _power_words(p)) for p in POWERS), free=True),
        Word(", zoomed to ", "head", "zoom", zoom, f"{zoom} mm",
             tuple((z, f"{z} mm") for z in sorted(zooms, key=float)), free=True),
        Word(", ", "behind", "what stood before the head", reading.modifier_id or "",
             dict(behinds)[reading.modifier_id or ""], behinds),
        Word(", ", "by", "read by", reading.kind, dict(BY)[reading.kind], BY),
        Word(" read ", "read", "what it read, as an aperture", read, read,
             (("f/8", "f/8"), ("f/11", "f/11")), free=True),
        Word(" on ", "day", "day", f"{reading.on:%Y-%m-%d}", f"{reading.on.day} {reading.on:%b %Y}",
             ((f"{today:%Y-%m-%d}", f"{today.day} {today:%b %Y}"),), free=True),
    ]  # fmt: skip
    return ReadingWords(tuple(words))


def _power_words(power: str) -> str:
    return "full power" if power == "1/1" else f"{power} power"


def _says(
    flash: Flash, reading: FlashReading, modifiers: Mapping[str, Modifier], own: list[KeptReading]
) -> tuple[str, tuple[str, ...]]:
    """The answer and its working."""
    zoom_mm = reading.zoom_mm or flash.guide_numbers[0][0]
    number = reading.guide_number_m
    working = (
        f"Guide number = aperture x distance / sqrt(ISO / 100 x power) = {reading.aperture:g} x "
        f"{reading.distance_m:.3g} m / sqrt({reading.iso / 100:g} x {typed.part_text(reading.power)}) = "
        f"{number:.1f} m (ISO 1230).",
        "A stop is a factor of two in light and of the square root of two in guide number.",
    )
    if reading.modifier_id is not None:
        return _loss_words(flash, reading, modifiers[reading.modifier_id], own), working
    down_m = guide_number_at(flash.guide_numbers, zoom_mm)
    apart = 2 * log2(number / down_m)
    against = f"the {down_m:.3g} m it is down for"
    compared = f"the same as {against}" if abs(apart) < 0.05 else f"{stops_apart(apart)} {against}"
    return f"That is a guide number of {number:.1f} m at {zoom_mm:g} mm: {compared}.", working


def _loss_words(flash: Flash, reading: FlashReading, modifier: Modifier, own: list[KeptReading]) -> str:
    metered = metered_modifier(modifier, [flash], [*own, reading])
    if metered.loss_note:
        return metered.loss_note
    return (
        f"Behind {modifier.name} that is a guide number of {reading.guide_number_m:.1f} m. To know what it takes, "
        f"keep a bare reading of this flash at {reading.zoom_mm:g} mm as well."
    )


def _invitation(flash: Flash, own: list[KeptReading]) -> str:
    if own:
        return (
            metered_flash(flash, own).guide_note or "Read behind modifiers only so far: a bare reading is needed too."
        )
    where = "metered" if flash.measured else "printed"
    return f"Its guide number is {where}, with no reading of yours. Type what your meter read, like f/11."


def _so_far(flash: Flash, modifiers: Iterable[Modifier], own: list[KeptReading]) -> tuple[str, ...]:
    notes = [metered_flash(flash, own).guide_note]
    notes += [metered_modifier(each, [flash], own).loss_note for each in modifiers]
    return tuple(note for note in notes if note)


def _row(flash: Flash, reading: KeptReading, modifiers: Mapping[str, Modifier]) -> ReadingRow:
    behind = modifiers[reading.modifier_id] if reading.modifier_id else None
    sentence = _sentence(flash, (behind,) if behind else (), reading, True, reading.on)
    gives = f"guide number {reading.guide_number_m:.1f} m{' behind it' if behind else ''}"
    return ReadingRow(id=reading.id, version=reading.version, on=reading.on, text=sentence.text, gives=gives)
