"""What is due before the workshops to come: questions by date, open enquiries, places not checked, papers, old records.

All of it is found first and put in order; only what a page shows is put into words.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Generic, TypeVar

from models.clock import day_words
from models.planning.rules.coming import Coming
from models.planning.rules.enquiry_words import activities_words, ago_words, needs_reminding, until_words
from models.rules.activities import ACTIVITIES
from models.rules.answers import ActivityFindings, Answer, Finding
from models.rules.areas import Area
from models.rules.deadlines import deadlines as to_ask
from models.rules.enquiry import Enquiry
from models.rules.papers import Paper
from models.rules.rule import Rule
from models.rules.still_open import papers_open
from models.words.rules import source_words

NEEDED = (Answer.TOO_LATE, Answer.ASK_BY)
ANSWER_SOON_DAYS = 10
"""An open question is named whatever its age once its day is so near: common practice, no source."""
NO_LEAD = "now: no lead time is recorded"
NOT_KNOWN = "whoever decides there: find out"


T = TypeVar("T")
PlacedRule = tuple[Rule, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question to one place for one workshop. where: the area, or the spot itself (area_id None).

    by: the last day to ask, None where no lead time is recorded. due: how long that is, empty where nothing was
    checked. what: the activities in words. enquiry_id, enquiry_state: one that was begun for that day or workshop.
    differences: what a grant or a question does not cover.
    passing: it is about the walk there.
    """

    workshop_id: int
    workshop: str
    day: date
    when: str
    where: str
    area_id: int | None
    spot_id: int
    whom: str
    contact: str
    by: date | None
    by_words: str
    due: str
    overdue: bool
    activities: tuple[str, ...]
    what: str
    enquiry_id: int | None
    enquiry_state: str
    differences: tuple[str, ...]
    passing: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PaperDue:
    """A paper that ends before workshops do; first: the earliest of these."""

    paper_id: int
    title: str
    ends: date
    due: str
    workshops: int
    first_id: int
    first: str


@dataclass(frozen=True, slots=True, kw_only=True)
class OldRecord:
    """A rule that is to be checked again before workshops; first: the earliest of these."""

    rule_id: int
    activity: str
    where: str
    source: str
    check_again: date
    due: str
    workshops: int
    first_id: int
    first: str


@dataclass(frozen=True, slots=True)
class Asking:
    """What must be asked of one place for one workshop by one day."""

    coming: Coming
    area: Area | None
    by: date | None
    findings: tuple[Finding, ...]

    @property
    def activities(self) -> tuple[str, ...]:
        named = {finding.activity for finding in self.findings}
        return tuple(key for key in ACTIVITIES if key in named)

    @property
    def overdue(self) -> bool:
        return any(finding.answer == Answer.TOO_LATE for finding in self.findings)

    @property
    def whom(self) -> str:
        return self.area.authority if self.area else self.coming.spot.controller

    @property
    def contact(self) -> str:
        return (self.area.contact or self.area.web) if self.area else ""


@dataclass(frozen=True)
class Lapsing(Generic[T]):
    """A paper, or a rule with the name of its place, and the workshops it does not last to, earliest first."""

    what: T
    workshops: tuple[Coming, ...]


@dataclass(frozen=True, slots=True)
class Dues:
    """All that is due, each kind in its order."""

    ask: tuple[Asking, ...]
    unchecked: tuple[Asking, ...]
    waiting: tuple[Enquiry, ...]
    papers: tuple[Lapsing[Paper], ...]
    old: tuple[Lapsing[PlacedRule], ...]


def dues(
    found: Sequence[tuple[Coming, tuple[ActivityFindings, ...]]],
    enquiries: Iterable[Enquiry],
    papers: Sequence[Paper],
    today: date,
) -> Dues:
    """found: the workshops to come in order, with their answers. enquiries: those that wait for an answer."""
    deadlines = [(coming, each) for coming, answers in found for each in to_ask(answers)]
    asked = [
        Asking(coming, each.area, each.by, tuple(f for f in each.findings if f.answer in NEEDED))
        for coming, each in deadlines
    ]
    unchecked = [
        Asking(coming, each.area, None, tuple(f for f in each.findings if f.answer == Answer.NOT_CHECKED))
        for coming, each in deadlines
    ]
    return Dues(
        ask=tuple(sorted((each for each in asked if each.findings), key=_by_day)),
        unchecked=tuple(each for each in unchecked if each.findings),
        waiting=tuple(sorted((each for each in enquiries if _waits(each, today)), key=_by_age)),
        papers=_lapsing((paper.id, paper, each) for each, _ in found for paper in _ending(papers, each)),
        old=_lapsing((rule.id, (rule, where), each) for each, rule, where in _old(found)),
    )


def question_of(asking: Asking) -> Question:
    workshop, spot, today = asking.coming.workshop, asking.coming.spot, asking.coming.today
    needed = asking.findings[0].answer in NEEDED
    about = [finding for finding in asking.findings if finding.enquiry and _is_about(finding.enquiry, asking.coming)]
    begun = about[0].enquiry if about else None
    return Question(
        workshop_id=workshop.id,
        workshop=workshop.title,
        day=asking.coming.footprint.day,
        when=day_words(asking.coming.footprint.day),
        where=asking.area.name if asking.area else spot.name,
        area_id=asking.area.id if asking.area else None,
        spot_id=spot.id,
        whom=asking.whom or NOT_KNOWN,
        contact=asking.contact,
        by=asking.by,
        by_words=day_words(asking.by) if asking.by else "",
        due=until_words(asking.by, today) if asking.by else NO_LEAD if needed else "",
        overdue=asking.overdue,
        activities=asking.activities,
        what=activities_words(asking.activities),
        enquiry_id=begun.id if begun else None,
        enquiry_state=begun.state if begun else "",
        differences=tuple(dict.fromkeys(_lacking(about))),
        passing=asking.findings[0].passing,
    )


def paper_due(lapsing: Lapsing[Paper], today: date) -> PaperDue:
    paper, first = lapsing.what, lapsing.workshops[0]
    ends = paper.valid_to or today
    return PaperDue(
        paper_id=paper.id,
        title=paper.title,
        ends=ends,
        due=f"ended {ago_words(ends, today)}" if ends < today else f"ends {until_words(ends, today)}",
        workshops=len(lapsing.workshops),
        first_id=first.workshop.id,
        first=_first(first),
    )


def old_record(lapsing: Lapsing[PlacedRule], today: date) -> OldRecord:
    (rule, where), first = lapsing.what, lapsing.workshops[0]
    again = rule.check_again or today
    return OldRecord(
        rule_id=rule.id,
        activity=ACTIVITIES[rule.activity].words,
        where=where,
        source=source_words(rule),
        check_again=again,
        due=f"too old since {day_words(again)}" if again < today else f"too old after {day_words(again)}",
        workshops=len(lapsing.workshops),
        first_id=first.workshop.id,
        first=_first(first),
    )


def _lacking(findings: Iterable[Finding]) -> Iterator[str]:
    """What enquiries that name the activity leave out of it."""
    for finding in findings:
        if finding.enquiry and finding.activity in finding.enquiry.activities:
            yield from finding.differences


def _is_about(enquiry: Enquiry, coming: Coming) -> bool:
    """Begun for this workshop, or for a day that is its day."""
    day, first, last = coming.footprint.day, enquiry.first_day, enquiry.last_day
    return enquiry.workshop_id == coming.workshop.id or bool(first and last and first <= day <= last)


def _first(coming: Coming) -> str:
    return f"{coming.workshop.title}, {day_words(coming.footprint.day)}"


def _by_day(asking: Asking) -> tuple[object, ...]:
    """What has no lead time stands where today does: it is to be asked now."""
    return asking.by or asking.coming.today, asking.coming.footprint.starts, asking.area.name if asking.area else ""


def _by_age(enquiry: Enquiry) -> tuple[object, ...]:
    return enquiry.sent_on or date.max, enquiry.id


def _waits(enquiry: Enquiry, today: date) -> bool:
    """Long without an answer, or its day is near; one about days that are over waits no more."""
    first, last = enquiry.first_day, enquiry.last_day
    if enquiry.state != "asked" or (last and last < today):
        return False
    return needs_reminding(enquiry, today) or bool(first and (first - today).days <= ANSWER_SOON_DAYS)


def _ending(papers: Sequence[Paper], coming: Coming) -> Iterator[Paper]:
    for item in papers_open(papers, coming.footprint):
        if item.paper and "lapses" in item.reasons:
            yield item.paper


def _old(
    found: Sequence[tuple[Coming, tuple[ActivityFindings, ...]]],
) -> Iterator[tuple[Coming, Rule, str]]:
    for coming, answers in found:
        for finding in (finding for each in answers for finding in each.findings):
            if finding.answer == Answer.TOO_OLD and finding.rule:
                yield coming, finding.rule, finding.area.name if finding.area else coming.spot.name


def _lapsing(lapses: Iterable[tuple[int, T, Coming]]) -> tuple[Lapsing[T], ...]:
    """One for each number, in the order of their first workshop."""
    whats: dict[int, T] = {}
    workshops: dict[int, dict[int, Coming]] = defaultdict(dict)
    for number, what, coming in lapses:
        whats.setdefault(number, what)
        workshops[number][coming.workshop.id] = coming
    return tuple(Lapsing(what, tuple(workshops[number].values())) for number, what in whats.items())
