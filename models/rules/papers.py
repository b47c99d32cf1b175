"""Papers to carry: insurance, grants, releases (counted, not stored)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

KINDS: dict[str, str] = {
    "insurance": "insurance",
    "grant": "grant or permit",
    "releases": "releases, counted",
    "other": "other paper",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperDraft:
    """A paper as typed. covers_teaching, covers_models: None where nobody looked. count: of releases.

    where: where the paper itself lies.
    """

    kind: str
    title: str
    reference: str = ""
    insured_sum: str = ""
    valid_from: date | None = None
    valid_to: date | None = None
    covers_teaching: bool | None = None
    covers_models: bool | None = None
    count: int | None = None
    where: str = ""
    notes: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper(PaperDraft):
    """A paper as kept; hand `version` back with a change."""

    id: int
    version: int
