"""What the clear-width page is asked: the pavement and the station on it, in one sentence with words to change."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial

from models.planning.rules.what_if import Clause
from models.planning.sentence import Word, read_length
from models.problems import InputProblem
from models.street.clearance import KERB_ALLOWANCE_M, LARGEST_M, Minimum, Pavement
from models.words.street import metres

PARAMETERS = ("wide", "depth", "length", "kerb", "door", "own")
STATION_DEPTH_M, STATION_LENGTH_M = 1.5, 2.0
"""One model and one light held beside them, people included: common practice, no source. To be measured on the spot."""
NOT_MEASURED, NONE_RECORDED = "not measured", "no width of its own"
FIELDS = {"wide": "width_m", "depth": "depth_m", "length": "length_m", "kerb": "kerb_m", "door": "door_m"}


@dataclass(frozen=True, slots=True)
class WidthAsked:
    """pavement: None where its width is not known. own_rule: what the place asks for, where it is typed and not what is
    on record."""

    pavement: Pavement | None
    own_rule: Minimum | None
    sentence: Clause


def read_width_asked(asked: Mapping[str, str], measured_m: float | None, recorded_m: float | None = None) -> WidthAsked:
    """measured_m: the spot's own width. recorded_m: what its rules want left. What is missing is as usual.

    Raises InputProblem naming the parameter.
    """
    wide = _or_none("wide", asked.get("wide", ""), measured_m)
    depth = _length("depth", asked.get("depth", ""), STATION_DEPTH_M)
    length = _length("length", asked.get("length", ""), STATION_LENGTH_M)
    kerb = _length("kerb", asked.get("kerb", ""), KERB_ALLOWANCE_M)
    door = _length("door", asked.get("door", ""), 0.0)
    own = _or_none("own", asked.get("own", ""), recorded_m)
    own = recorded_m if own is None else own
    word = partial(_word, asked)
    words = (
        word("Pavement from wall to kerb: ", "wide", "width of the pavement", wide, ("1.8 m", "2.5 m", "3.5 m")),
        word("; the station takes ", "depth", "depth of the station", depth, ("1 m", "1.5 m", "2 m", "3 m")),
        word(" across and ", "length", "length of the station", length, ("1 m", "2 m", "4 m", "6 m")),
        word(" along it; kept free are ", "kerb", "kept from the kerb", kerb, ("0 m", "0.45 m", "0.6 m")),
        word(" at the kerb and ", "door", "kept before a door", door, ("0 m", "0.6 m", "1 m")),
        word(" before a door; the place asks for ", "own", "width the place asks for", own, ("1.5 m", "1.8 m", "2 m"),
             nothing=NONE_RECORDED),
    )  # fmt: skip
    pavement = None if wide is None else Pavement(wide, depth, length, kerb, door)
    rule = (
        None
        if own in (None, recorded_m)
        else Minimum("what the place asks for", own, "as you typed it: keep it as a rule")
    )
    return WidthAsked(pavement, rule, Clause(words, "."))


def _word(
    asked: Mapping[str, str],
    before: str,
    name: str,
    label: str,
    value_m: float | None,
    suggested: tuple[str, ...],
    nothing: str = NOT_MEASURED,
) -> Word:
    """What was typed stays as it was, feet or metres; what is usual is shown in metres."""
    typed = " ".join(asked.get(name, "").split())
    with_unit = f"{typed} m" if typed[-1:].isdecimal() else typed
    shown = nothing if value_m is None else with_unit or short_metres(value_m)
    return Word(before, name, label, shown, shown, tuple((text, text) for text in suggested), free=True)


def short_metres(length_m: float) -> str:
    """'1.5 m', '0.45 m', to the centimetre, as it may be typed again."""
    return f"{round(length_m, 2):g} m"


def _or_none(name: str, text: str, usual_m: float | None) -> float | None:
    if not text.strip():
        return usual_m
    if usual_m is not None and text.strip() == short_metres(usual_m):
        return usual_m
    return None if text.strip().lower() in (NOT_MEASURED, NONE_RECORDED) else _length(name, text, 0.0)


def _length(name: str, text: str, usual_m: float) -> float:
    typed = text.strip().lower()
    if not typed:
        return usual_m
    length_m = read_length(typed)
    if length_m is None:
        raise InputProblem(name, f"“{text}” is not a length. Type it like 1.5 m, 5 ft or 48 in.")
    most = LARGEST_M[FIELDS.get(name, "width_m")]
    if length_m > most:
        raise InputProblem(name, f"{metres(length_m)} is out of reach: give up to {most:g} m.")
    return length_m
