"""The kit from a TOML file: [[flash]], [[modifier]], [[camera]], [[trigger]], [[battery]], in the order to be shown.

Fractions may stand as text: sync_s = "1/200". Guide numbers are a list of [zoom in mm, metres at ISO 100].
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import fields
from pathlib import Path
from typing import Any, TypeVar

from models.exchange.features import short
from models.light.battery import BatterySet
from models.light.kit import Camera, Flash, Kit, Modifier, Trigger
from models.problems import InputProblem

T = TypeVar("T", Flash, Modifier, Camera, Trigger, BatterySet)
_FRACTION = re.compile(r"(\d+)/(\d+)$")


def read_kit(path: str | Path) -> Kit:
    """Raises InputProblem naming the piece of kit."""
    try:
        noted = tomllib.loads(Path(path).read_text("utf-8"))
    except OSError as problem:
        raise InputProblem("file", f"cannot be read: {problem.strerror}") from None
    except ValueError as problem:
        raise InputProblem("file", f"is not TOML: {problem}") from None
    return Kit(
        _all(noted, "flash", Flash),
        _all(noted, "modifier", Modifier),
        _all(noted, "camera", Camera),
        _all(noted, "trigger", Trigger),
        _all(noted, "battery", BatterySet),
    )


def _all(noted: Mapping[str, Any], key: str, kind: type[T]) -> tuple[T, ...]:
    items = noted.get(key, [])
    if not isinstance(items, list):
        raise InputProblem(key, f"write [[{key}]] above each")
    return tuple(_one(f"{key} {number}", item, kind) for number, item in enumerate(items, start=1))


def _one(label: str, item: Any, kind: type[T]) -> T:
    if not isinstance(item, Mapping):
        raise InputProblem(label, f"{short(item)} is not a table of values")
    known = {field.name for field in fields(kind)}
    unknown = sorted(set(item) - known)
    if unknown:
        raise InputProblem(label, f"does not know {', '.join(unknown)}; it knows {', '.join(sorted(known))}")
    try:
        return kind(**{name: _value(value) for name, value in item.items()})
    except InputProblem as problem:
        raise InputProblem(label, f"{problem.field}: {problem.message}") from None
    except TypeError:
        raise InputProblem(label, "lacks a value, or has text where a number belongs") from None


def _value(value: Any) -> Any:
    if isinstance(value, list):
        return tuple(_value(part) for part in value)
    fraction = _FRACTION.match(value) if isinstance(value, str) else None
    return int(fraction[1]) / int(fraction[2]) if fraction and int(fraction[2]) else value
