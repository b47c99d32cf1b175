"""What still stands open before a workshop: by whom it is owed, by when, and what happens if it stays so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from models.rules.answers import ActivityFindings, Answer, Finding
from models.rules.footprint import Footprint
from models.rules.papers import Paper

STAYS = ("group", "teaching")
"""What a workshop cannot leave out and still be one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenItem:
    """kind: "rule" (finding), "paper" (paper, None where there is none), "guard" (names: who controls both places),
    "person" (said: what is open of whom; told: the same without a name, for files; if_said: what is left).

    owed_by: "organiser", "authority", "insurer". by: the last day, None where none is known. reasons: of a paper.
    if_open: what is left to do, best first, of "go_round", "fallback", "hand_held", "smaller_group", "leave_out",
    "not_run".
    """

    kind: str
    owed_by: str
    by: date | None = None
    if_open: tuple[str, ...] = ()
    activity: str = ""
    answer: Answer | None = None
    finding: Finding | None = None
    paper: Paper | None = None
    reasons: tuple[str, ...] = ()
    names: tuple[str, ...] = ()
    said: str = ""
    told: str = ""
    if_said: str = ""


def still_open(
    found: Sequence[ActivityFindings],
    papers: Sequence[Paper],
    footprint: Footprint,
    *,
    has_fallback: bool,
    shared: Sequence[str] = (),
) -> tuple[OpenItem, ...]:
    """All that stands open, most urgent first: strictest answers, then earlier days, then papers and the fallback.

    shared: names from `same_guard` of the fallback; one that falls to the same guard is none.
    """
    goes = has_fallback and not shared
    people = footprint.doing.group
    rules = [
        _rule_item(finding, tuple(_ways(finding, found, goes, people)))
        for each in found
        for finding in _open_findings(each)
    ]
    rules.sort(key=lambda item: (item.answer or Answer.NOT_CHECKED, item.by or date.max))
    guard = [OpenItem(kind="guard", owed_by="organiser", names=tuple(shared))] if has_fallback and shared else []
    return (*rules, *papers_open(papers, footprint), *guard)


def papers_open(papers: Sequence[Paper], footprint: Footprint) -> tuple[OpenItem, ...]:
    """Papers that lapse before the day or do not cover it, but where another one of the kind does; insurance always."""
    eve = footprint.day - timedelta(days=1)
    lacking = [(paper, tuple(_lacking(paper, footprint))) for paper in papers]
    good = {_sort(paper) for paper, reasons in lacking if not reasons}
    items = [
        OpenItem(
            kind="paper",
            owed_by="insurer" if paper.kind == "insurance" else "organiser",
            by=eve,
            if_open=("not_run",) if paper.kind == "insurance" else (),
            paper=paper,
            reasons=reasons,
        )
        for paper, reasons in lacking
        if reasons and _sort(paper) not in good
    ]
    if not any(paper.kind == "insurance" for paper in papers):
        none = OpenItem(kind="paper", owed_by="organiser", by=eve, if_open=("not_run",), reasons=("no_insurance",))
        items.insert(0, none)
    return tuple(items)


def _open_findings(each: ActivityFindings) -> Iterator[Finding]:
    """The strictest of each place, where it is not granted."""
    places = set()
    for finding in each.findings:
        place = finding.area.id if finding.area else None
        if place not in places and finding.answer != Answer.GRANTED:
            yield finding
        places.add(place)


def _rule_item(finding: Finding, ways: tuple[str, ...]) -> OpenItem:
    return OpenItem(
        kind="rule",
        owed_by="authority" if finding.answer == Answer.NO_ANSWER_YET else "organiser",
        by=finding.by,
        if_open=ways or ("not_run",),
        activity=finding.activity,
        answer=finding.answer,
        finding=finding,
    )


def _ways(finding: Finding, found: Sequence[ActivityFindings], goes: bool, people: int) -> Iterator[str]:
    if finding.passing:
        yield "go_round"
    if goes and not finding.passing:
        yield "fallback"
    if finding.activity == "stand_ground" and not _held_refused(finding, found):
        yield "hand_held"
    if _fewer_would_do(finding, people):
        yield "smaller_group"
    if finding.activity not in STAYS:
        yield "leave_out"


def _fewer_would_do(finding: Finding, people: int) -> bool:
    """The rule begins over a number, or all that a grant lacks is people."""
    if finding.activity == "group" and finding.rule and finding.rule.over:
        return True
    granted = finding.enquiry.people if finding.enquiry and finding.enquiry.state == "granted" else None
    return granted is not None and granted < people and len(finding.differences) == 1


def _held_refused(finding: Finding, found: Sequence[ActivityFindings]) -> bool:
    return any(
        one.answer == Answer.NOT_PERMITTED and one.area == finding.area
        for each in found
        if each.activity == "stand_held"
        for one in each.findings
    )


def _lacking(paper: Paper, footprint: Footprint) -> Iterator[str]:
    insures = paper.kind == "insurance"
    if paper.valid_to and paper.valid_to < footprint.ends.date():
        yield "lapses"
    elif insures and paper.valid_to is None:
        yield "no_end"
    if paper.valid_from and paper.valid_from > footprint.day:
        yield "begins_later"
    if insures and footprint.doing.teaching and not paper.covers_teaching:
        yield "not_teaching" if paper.covers_teaching is False else "teaching_not_known"
    if insures and footprint.doing.models and not paper.covers_models:
        yield "not_models" if paper.covers_models is False else "models_not_known"


def _sort(paper: Paper) -> tuple[str, str]:
    """Papers of one sort stand in for one another: any insurance, others of the same title."""
    return paper.kind, "" if paper.kind == "insurance" else paper.title.casefold()
