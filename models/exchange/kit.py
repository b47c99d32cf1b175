"""The kit as a TOML file, read and written: [[flash]], [[modifier]], [[camera]], [[trigger]], [[battery]], [[gel]],
[[filter]], [[stand]], in the order to be shown.

Fractions may stand as text: sync_s = "1/200". Guide numbers are a list of [zoom in mm, metres at ISO 100]; heat limits
a list of {from_power, to_power, flashes, rest_s}.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from pathlib import Path
from typing import Any

from models.exchange.features import short
from models.light.accessories import Filter, Gel, HeatRow, Stand
from models.light.battery import BatterySet
from models.light.kit import Camera, Flash, Kit, Modifier, Trigger
from models.problems import InputProblem


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of kit: its field of `Kit`, its word in files, what one is."""

    name: str
    key: str
    piece: type[Any]


KINDS = (
    Kind("flashes", "flash", Flash),
    Kind("modifiers", "modifier", Modifier),
    Kind("cameras", "camera", Camera),
    Kind("triggers", "trigger", Trigger),
    Kind("batteries", "battery", BatterySet),
    Kind("gels", "gel", Gel),
    Kind("filters", "filter", Filter),
    Kind("stands", "stand", Stand),
)
_FRACTION = re.compile(r"(\d+)/(\d+)$")
_AS_FRACTION = ("lowest_power", "clean_sync_s", "sync_s", "min_shutter_s", "from_power", "to_power")


def read_kit(path: str | Path) -> Kit:
    """Raises InputProblem naming the piece of kit."""
    try:
        noted = tomllib.loads(Path(path).read_text("utf-8"))
    except OSError as problem:
        raise InputProblem("file", f"cannot be read: {problem.strerror}") from None
    except ValueError as problem:
        raise InputProblem("file", f"is not TOML: {problem}") from None
    return Kit(**{kind.name: _all(noted, kind) for kind in KINDS})


def write_kit(kit: Kit) -> str:
    """The file that `read_kit` reads back into the same kit."""
    return "\n".join(line for kind in KINDS for piece in getattr(kit, kind.name) for line in _written(kind, piece))


def _all(noted: Mapping[str, Any], kind: Kind) -> tuple[Any, ...]:
    items = noted.get(kind.key, [])
    if not isinstance(items, list):
        raise InputProblem(kind.key, f"write [[{kind.key}]] above each")
    return tuple(_one(f"{kind.key} {number}", item, kind.piece) for number, item in enumerate(items, start=1))


def _one(label: str, item: Any, piece: type[Any]) -> Any:
    if not isinstance(item, Mapping):
        raise InputProblem(label, f"{short(item)} is not a table of values")
    known = {field.name for field in fields(piece)}
    unknown = sorted(set(item) - known)
    if unknown:
        raise InputProblem(label, f"does not know {', '.join(unknown)}; it knows {', '.join(sorted(known))}")
    try:
        return piece(**{name: _heat(label, value) if name == "heat" else _value(value) for name, value in item.items()})
    except InputProblem as problem:
        shown = problem.message if problem.field == label else f"{problem.field}: {problem.message}"
        raise InputProblem(label, shown) from None
    except TypeError:
        raise InputProblem(label, "lacks a value, or has text where a number belongs") from None


def _heat(label: str, rows: Any) -> tuple[HeatRow, ...]:
    if not isinstance(rows, list):
        raise InputProblem(label, "heat: write a list of {from_power, to_power, flashes, rest_s}")
    return tuple(_one(label, row, HeatRow) for row in rows)


def _value(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(_value(part) for part in value)
    fraction = _FRACTION.match(value) if isinstance(value, str) else None
    return int(fraction[1]) / int(fraction[2]) if fraction and int(fraction[2]) else value


def _written(kind: Kind, piece: Any) -> Iterator[str]:
    yield f"[[{kind.key}]]"
    for field in fields(kind.piece):
        value = getattr(piece, field.name)
        if value is not None:
            yield f"{field.name} = {_toml(value, field.name)}"
    yield ""


def _toml(value: Any, name: str = "") -> str:
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007F")
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, tuple):
        return f"[{', '.join(map(_toml, value))}]"
    if is_dataclass(value):
        parts = (f"{field.name} = {_toml(getattr(value, field.name), field.name)}" for field in fields(value))
        return f"{{{', '.join(parts)}}}"
    under = round(1 / value) if name in _AS_FRACTION else 0
    return f'"1/{under}"' if under and 1 / under == value else repr(value)
