"""Rows of published values, kept under data/ with their sources, for the tests beside this file."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

DATA = Path(__file__).parent / "data"


@dataclass(frozen=True)
class Row:
    """One published value: what it is, under which inputs, and who says so."""

    id: str
    quantity: str
    inputs: dict[str, str]
    value: str
    unit: str
    tolerance: str
    source: str

    def number(self, name: str) -> float:
        """An input as a number, with any remark after it left out."""
        return float(self.inputs[name].split()[0])


def rows(file_name: str) -> dict[str, Row]:
    """All rows of a file, by their id."""
    with (DATA / file_name).open(encoding="utf-8", newline="") as file:
        return {row.id: row for row in map(_row, csv.DictReader(file))}


def _row(cells: dict[str, str]) -> Row:
    inputs = dict(part.split("=", 1) for part in cells["inputs"].split(";") if "=" in part)
    inputs = {name.strip(): text for name, text in inputs.items()}
    names = ("id", "quantity", "value", "unit", "tolerance", "source")
    return Row(inputs=inputs, **{name: cells[name] for name in names})
