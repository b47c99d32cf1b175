"""What people type about kit: '1/250', 'f/2.8', '6 ft', '24 mm 20, 50 mm 28', '1/1 to 1/2: 15 flashes, 10 min'.

Every reader names its field in the problem; every writer gives what its reader takes back into the same value.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from math import isfinite

from models.light.accessories import HeatRow
from models.light.kit import guide_numbers_m
from models.light.series import stops_words
from models.problems import InputProblem
from models.units import METRES_PER_FOOT

KG = {"kg": 1.0, "g": 0.001, "lb": 0.45359237, "lbs": 0.45359237, "oz": 0.028349523125}
"""Avoirdupois pound of 1959, exact."""

INCH_M = METRES_PER_FOOT / 12
METRES = {
    "m": 1.0, "cm": 0.01, "mm": 0.001, "ft": METRES_PER_FOOT, "feet": METRES_PER_FOOT, "foot": METRES_PER_FOOT,
    "'": METRES_PER_FOOT, "in": INCH_M, "inch": INCH_M, "inches": INCH_M, '"': INCH_M,
}  # fmt: skip
SECONDS = {"s": 1.0, "sec": 1.0, "second": 1.0, "seconds": 1.0, "min": 60.0, "minutes": 60.0, "minute": 60.0}
LEAST_ZOOM_MM, MOST_ZOOM_MM = 5, 1000
LEAST_GUIDE_M, MOST_GUIDE_M = 0.5, 500
MOST_BARE_M, BARE_UNDER_MM = 80, 100
"""A bare guide number above this at a shorter zoom was most likely printed in feet. Common practice, no source."""
MOST_ROWS = 40

_N = r"\d{1,7}(?:[.,]\d{1,30})?"
_AMOUNT = re.compile(rf"(?P<sign>[-−+])?\s*(?P<n>{_N})\s*(?P<unit>[a-z°'\"]*)$")
_PART = re.compile(r"(?P<over>\d{1,4})\s*/\s*(?P<under>[1-9]\d{0,5})\s*(?:s|sec|second|seconds)?$")
_PAIR = re.compile(rf"(?P<zoom>{_N})\s*(?:mm)?\s*[: =@]?\s+(?P<n>{_N})\s*(?P<unit>m|ft|feet)?$")
_BETWEEN = re.compile(r"[;\n]|,(?=\s)|,(?=\d+\s*mm)", re.IGNORECASE)
_FACE = re.compile(
    rf"(?P<a>{_N})\s*(?P<own>(?:(?!x|by)[a-z'\"]){{0,6}})\s*(?:[x×*]|by)\s*(?P<b>{_N})\s*(?P<unit>[a-z'\"]*)$"
)
_POWER = r"(?:full|1/\d{1,4}|1)"
_HEAT = re.compile(
    rf"(?P<from>{_POWER})(?:\s*(?:to|-|–|down to)\s*(?P<to>{_POWER}))?\s*[:,;]?\s+"
    r"(?P<count>\d{1,5})\s*(?:flashes|flash|x)?\s*[,;:]?\s*(?:then|rest|a rest of|wait)?\s*"
    rf"(?P<rest>{_N})\s*(?P<unit>[a-z]*)(?:\s*rest)?$"
)


def amount(
    field: str, text: str, units: Mapping[str, float], low: float, high: float, like: str, whole_text: str = ""
) -> float:
    """A number in one of the units (a bare number is in the first) from low to high of the first unit.

    whole_text: what was typed, where `text` is only what a reader left of it.
    """
    said = _cut(whole_text or text)
    found = _AMOUNT.match(text.strip().lower())
    first = next(iter(units))
    unit = (found["unit"].rstrip(".") or first) if found else ""
    if found is None or unit not in units:
        raise InputProblem(field, f"“{said}” cannot be read. Type it like {like}.")
    sign = -1 if (found["sign"] or "+") in "-−" else 1
    value = sign * float(found["n"].replace(",", ".")) * units[unit]
    if not isfinite(value) or not low <= value <= high:
        raise InputProblem(field, f"“{said}” is out of reach: give {low:g} to {high:g} {first}.".replace(" .", "."))
    return value


def whole(field: str, text: str, low: int, high: int, like: str, word: str = "") -> int:
    typed = text.strip().lower().removeprefix(word).strip()
    if not (typed.isascii() and typed.isdecimal() and len(typed) < 10):
        raise InputProblem(field, f"“{_cut(text)}” is not a whole number. Type it like {like}.")
    if not low <= int(typed) <= high:
        raise InputProblem(field, f"{int(typed)} is out of reach: give {low} to {high}.")
    return int(typed)


def shutter(field: str, text: str) -> float:
    """Seconds from '1/250', '1/250 s', '0.004 s', or '250' as cameras show it."""
    typed = text.strip().lower()
    part = _PART.match(typed)
    if part:
        value = int(part["over"]) / int(part["under"])
    elif typed.isascii() and typed.isdecimal() and int(typed[:6]) >= 2:
        value = 1 / int(typed[:6])
    else:
        value = amount(field, typed, SECONDS, 0, 60, "1/250", text)
    if not 1 / 100_000 <= value <= 60:
        raise InputProblem(field, f"“{_cut(text)}” is out of reach: give 1/100000 to 60 s.")
    return value


def power(field: str, text: str) -> float:
    """A fraction of full power from '1/64', 'full', '1/1' or '50 %'."""
    typed = text.strip().lower().removesuffix("power").strip()
    if typed in ("full", "1"):
        return 1.0
    part = _PART.match(typed)
    if part:
        value = int(part["over"]) / int(part["under"])
    elif typed.endswith("%"):
        value = amount(field, typed.removesuffix("%"), {"": 1.0}, 0, 100, "50 %", text) / 100
    else:
        value = amount(field, typed, {"": 1.0}, 0, 1, "1/64", text)
    if not 1 / 4096 <= value <= 1:
        raise InputProblem(field, f"“{_cut(text)}” is not a power: give full to 1/4096.")
    return value


def aperture(field: str, text: str) -> float:
    typed = text.strip().lower()
    return amount(field, typed.removeprefix("f/").removeprefix("f"), {"": 1.0}, 0.5, 128, "f/5.6", text)


def guide_numbers(field: str, text: str) -> tuple[tuple[float, float], ...]:
    """(zoom in mm, metres at ISO 100) by rising zoom, from '24 mm 20, 50 mm 28', in feet where it says so."""
    parts = [part.strip() for part in _BETWEEN.split(text) if part.strip()]
    if len(parts) > MOST_ROWS:
        raise InputProblem(field, f"{len(parts)} zoom steps; at most {MOST_ROWS}.")
    found = [(part, _PAIR.match(part.lower())) for part in parts]
    for part, pair in found:
        if pair is None:
            raise InputProblem(
                field, f"“{_cut(part)}” is no zoom with its guide number. Type it like 24 mm 20, 50 mm 28."
            )
    units = {pair["unit"][0] for _, pair in found if pair and pair["unit"]}
    if len(units) == 2 and not all(pair and pair["unit"] for _, pair in found):
        raise InputProblem(field, "holds both metres and feet: say m or ft behind each.")
    read: dict[float, float] = {}
    for part, pair in found:
        if pair is None:
            continue
        zoom_mm, number = _guide(field, part, pair, (pair["unit"] or "".join(units))[:1])
        if zoom_mm in read:
            raise InputProblem(field, f"{zoom_mm:g} mm stands there twice.")
        read[zoom_mm] = number
    return tuple(sorted(read.items()))


def heat_rows(field: str, text: str) -> tuple[HeatRow, ...]:
    """Printed heat limits, one a line: '1/1 to 1/2: 15 flashes, then 10 min'."""
    lines = [line.strip() for line in re.split(r"[;\n]", text) if line.strip()]
    if len(lines) > MOST_ROWS:
        raise InputProblem(field, f"{len(lines)} rows; at most {MOST_ROWS}.")
    return tuple(_heat_row(field, line) for line in lines)


def face(field: str, text: str) -> tuple[float, float]:
    """Width and height in metres from '40 x 60 cm', '16 x 24 in', or one figure for square and round."""
    found = _FACE.match(text.strip().lower())
    if found is None:
        side = length(field, text, 0.01, 5)
        return side, side
    own, unit = found["own"] or found["unit"], found["unit"] or found["own"]
    return length(field, f"{found['a']} {own}", 0.01, 5), length(field, f"{found['b']} {unit}", 0.01, 5)


def length(field: str, text: str, low: float, high: float) -> float:
    return amount(field, text, METRES, low, high, "1.2 m, 120 cm or 4 ft")


def number_text(value: float) -> str:
    """As short as gives the same number back."""
    return f"{Decimal(repr(float(value))).normalize():f}"


def part_text(value: float) -> str:
    """'1/250' where it is one, else the number."""
    under = round(1 / value) if value else 0
    return f"1/{under}" if under and 1 / under == value else number_text(value)


def stops_text(value: float) -> str:
    """'1 1/3' where it is thirds, else the number."""
    whole_stops, thirds = divmod(round(value * 3), 3)
    return stops_words(value) if float(Fraction(thirds, 3)) + whole_stops == value else number_text(value)


def guide_text(pairs: tuple[tuple[float, float], ...]) -> str:
    return ", ".join(f"{number_text(zoom)} mm {number_text(number)} m" for zoom, number in pairs)


def guide_words(pairs: tuple[tuple[float, float], ...]) -> str:
    """'20 m at 24 mm, 34 m at 105 mm'."""
    return ", ".join(f"{number:.3g} m at {zoom:g} mm" for zoom, number in pairs)


def heat_text(rows: tuple[HeatRow, ...]) -> str:
    return "\n".join(
        f"{_power_text(row.from_power)} to {_power_text(row.to_power)}: {row.flashes} flashes, then "
        f"{number_text(row.rest_s)} s"
        for row in rows
    )


def heat_words(rows: tuple[HeatRow, ...]) -> str:
    """'1/1 to 1/2: 15 flashes, then 10 min'."""
    return "; ".join(
        f"{_power_text(row.from_power)} to {_power_text(row.to_power)}: {row.flashes} flashes, then {_rest(row.rest_s)}"
        for row in rows
    )


def face_text(sides: tuple[float, float]) -> str:
    return " x ".join(number_text(side) for side in sides) + " m"


def face_words(sides: tuple[float, float]) -> str:
    a, b = (f"{side * 100:.3g}" for side in sides)
    return f"{a} cm across" if a == b else f"{a} x {b} cm"


def _power_text(value: float) -> str:
    return part_text(value) if value < 1 else "1/1"


def _rest(seconds: float) -> str:
    return f"{seconds / 60:g} min" if seconds >= 60 and seconds % 30 == 0 else f"{seconds:g} s"


def _heat_row(field: str, line: str) -> HeatRow:
    found = _HEAT.match(line.lower())
    unit = (found["unit"] or "s") if found else ""
    if found is None or unit not in SECONDS:
        raise InputProblem(field, f"“{_cut(line)}” is no heat row. Type it like 1/1 to 1/2: 15 flashes, then 10 min.")
    strong = power(field, found["from"])
    weak = power(field, found["to"]) if found["to"] else strong
    rest_s = _number(found["rest"]) * SECONDS[unit]
    if not 1 <= rest_s <= 7200:
        raise InputProblem(field, f"“{_cut(line)}”: a rest lasts from 1 s to 120 min.")
    try:
        return HeatRow(strong, weak, int(found["count"]), rest_s)
    except InputProblem as problem:
        raise InputProblem(field, f"“{_cut(line)}”: {problem.message}.") from None


def _guide(field: str, part: str, pair: re.Match[str], unit: str) -> tuple[float, float]:
    """One zoom with its guide number. unit: 'm', 'f', or nothing where none is given anywhere."""
    ((zoom_mm, number),) = guide_numbers_m([(_number(pair["zoom"]), _number(pair["n"]))], "ft" if unit == "f" else "m")
    if not LEAST_ZOOM_MM <= zoom_mm <= MOST_ZOOM_MM:
        raise InputProblem(field, f"a zoom of {zoom_mm:g} mm is out of reach: give {LEAST_ZOOM_MM} to {MOST_ZOOM_MM}.")
    if not LEAST_GUIDE_M <= number <= MOST_GUIDE_M:
        raise InputProblem(field, f"“{_cut(part)}”: a guide number lies from {LEAST_GUIDE_M} to {MOST_GUIDE_M} m.")
    if not unit and number > MOST_BARE_M and zoom_mm < BARE_UNDER_MM:
        raise InputProblem(field, f"“{_cut(part)}”: in feet? Write ft behind it, or m where it is so many metres.")
    return zoom_mm, number


def _number(text: str) -> float:
    return float(text.replace(",", "."))


def _cut(text: str) -> str:
    tidy = " ".join(text.split())
    return tidy if len(tidy) <= 60 else f"{tidy[:57]}…"
