"""The eight answers that a footprint can meet, strictest first, and what each rests on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import IntEnum

from models.rules.areas import Area
from models.rules.enquiry import Enquiry
from models.rules.rule import Rule


class Answer(IntEnum):
    """Strictest first: the smaller number wins. None of them is permission."""

    NOT_PERMITTED = 1
    TOO_LATE = 2
    ASK_BY = 3
    NOT_CHECKED = 4
    TOO_OLD = 5
    NO_ANSWER_YET = 6
    GRANTED = 7
    RECORDED_PERMITTED = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One answer for one activity from one area, from the spot itself (area None, rule or enquiry of the spot), or from
    nothing recorded at all.

    amount: how much of the activity there is. reason: the key of its words. by: the last day to ask. differences: what
    of the footprint a grant or a question does not cover, in words. passing: it concerns the walk there only.
    """

    activity: str
    amount: int
    answer: Answer
    reason: str
    area: Area | None = None
    rule: Rule | None = None
    enquiry: Enquiry | None = None
    by: date | None = None
    differences: tuple[str, ...] = ()
    passing: bool = False


@dataclass(frozen=True, slots=True)
class ActivityFindings:
    """All answers for one activity, strictest first; the first one holds."""

    activity: str
    findings: tuple[Finding, ...]

    @property
    def strictest(self) -> Finding:
        return self.findings[0]
