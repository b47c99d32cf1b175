"""Checks that the kept things of a workshop share; each raises InputProblem naming the field."""

from __future__ import annotations

from math import isfinite
from typing import Any

from models.problems import InputProblem

MOST_NUMBER = 2**31 - 1


def within(field: str, value: Any, low: float, high: float, unit: str = "") -> None:
    """A number in those bounds, both included."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
        raise InputProblem(field, f"{str(value)[:40]!r} is not a number")
    if not low <= value <= high:
        raise InputProblem(field, f"{value:g} is out of reach: give {low:g} to {high:g} {unit}".rstrip())


def whole(field: str, value: Any, low: int, high: int, unit: str = "") -> None:
    """A whole number in those bounds, both included."""
    if isinstance(value, bool) or not isinstance(value, int):
        raise InputProblem(field, f"{str(value)[:40]!r} is not a whole number")
    if not low <= value <= high:
        raise InputProblem(field, f"{str(value)[:40]} is out of reach: give {low} to {high} {unit}".rstrip())


def number_of(field: str, value: Any) -> None:
    """The number of something kept."""
    whole(field, value, 1, MOST_NUMBER)


def point(field: str, value: Any) -> None:
    """Latitude and longitude."""
    if not isinstance(value, tuple) or len(value) != 2:
        raise InputProblem(field, f"{str(value)[:40]!r} is not a latitude and a longitude")
    within(field, value[0], -90.0, 90.0, "degrees of latitude")
    within(field, value[1], -180.0, 180.0, "degrees of longitude")


def truth(field: str, value: Any) -> None:
    if not isinstance(value, bool):
        raise InputProblem(field, f"{str(value)[:40]!r} is neither yes nor no")
