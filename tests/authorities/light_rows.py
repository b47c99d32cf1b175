"""Reads the published rows on exposure and flash: data/exposure.csv, data/flash.csv, data/table_exposure_series.csv."""

from __future__ import annotations

import csv
import re
from fractions import Fraction
from pathlib import Path

DATA = Path(__file__).parent / "data"


def table(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


def rows(name: str, quantity: str) -> list[dict[str, str]]:
    """The check rows whose quantity starts so; never none, so that a typing slip cannot empty a test."""
    found = [row for row in table(name) if row["kind"] == "check" and row["quantity"].startswith(quantity)]
    assert found, f"no row of {name} speaks of {quantity}"
    return found


def given(row: dict[str, str]) -> dict[str, float]:
    """The inputs as numbers: 'f/16;t=1/125 s' gives {'f': 16, 't': 0.008}."""
    numbers = {}
    for part in row["inputs"].split(";"):
        name, _, text = ("f", "", part[2:]) if part.startswith("f/") else part.partition("=")
        found = re.match(r"[-+]?\d+(\.\d+)?(/\d+)?", text.strip())
        if found:
            numbers[name.strip()] = number(found[0])
    return numbers


def wanted(row: dict[str, str]) -> list[float]:
    """The value or values, '0.625 / 0.03125' or 'f/12.80 ; 3.125 m'."""
    parts = re.split(r"\s[/;]\s", row["value"].replace("f/", ""))
    return [float(part.split()[0]) for part in parts]


def number(text: str) -> float:
    return float(Fraction(text.lstrip("+")))
