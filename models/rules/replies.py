"""What enquiries change of what the rules of one place say: a grant, a question still open, a refusal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta

from models.rules.answers import Answer, Finding
from models.rules.coverage import differences
from models.rules.enquiry import Enquiry
from models.rules.footprint import Footprint
from models.rules.hours import Span

UNANSWERED = (Answer.TOO_LATE, Answer.ASK_BY, Answer.NOT_CHECKED)
"""What a question sent in time turns into waiting for its answer."""
GRANTABLE = (*UNANSWERED, Answer.TOO_OLD, Answer.NO_ANSWER_YET)
"""What a grant that covers it turns into granted: never a record or a word that it is not permitted."""
TOLD = ("granted", "asked", "planned", "refused", "lapsed", "withdrawn")
"""Which of several enquiries that settle nothing is told beside the rule."""


def with_replies(
    found: list[Finding], enquiries: Sequence[Enquiry], nothing: Finding, footprint: Footprint, today: date
) -> list[Finding]:
    """The findings of one place and activity with what was asked and answered about it.

    nothing: the finding of that place where nothing is recorded. Of several enquiries the best speaks: a grant that
    covers this, a question that does, any other; a refusal for that day speaks besides.
    """
    refused = [enquiry for enquiry in enquiries if _refuses(enquiry, nothing.activity, footprint.day)]
    rest = [enquiry for enquiry in enquiries if enquiry not in refused and _bears(enquiry, nothing.activity)]
    if rest:
        lacking = {enquiry.id: differences(enquiry, footprint, nothing.activity) for enquiry in rest}
        best = min(rest, key=lambda enquiry: _rank(enquiry, lacking[enquiry.id]))
        told = replace(nothing, enquiry=best, differences=lacking[best.id])
        found = _with_best(found, best, told, footprint.day, today)
    if refused:
        found = [finding for finding in found if finding.reason != "nothing"]
        found += [replace(nothing, answer=Answer.NOT_PERMITTED, reason="refused", enquiry=each) for each in refused]
    return found


def speaks(enquiry: Enquiry, activity: str) -> bool:
    """Whether a place of which nothing else is recorded must be judged for this activity because of it."""
    named = activity in enquiry.activities or (enquiry.state == "refused" and not enquiry.activities)
    return named and enquiry.state in ("granted", "asked", "refused")


def _refuses(enquiry: Enquiry, activity: str, day: date) -> bool:
    """A refusal that names no activity or no end of its days refuses all of them."""
    days = Span(first_day=enquiry.first_day, last_day=enquiry.last_day)
    named = not enquiry.activities or activity in enquiry.activities
    return enquiry.state == "refused" and named and days.has_day(day)


def _bears(enquiry: Enquiry, activity: str) -> bool:
    """What was granted or asked is told even where it does not name the activity: that is what it lacks."""
    return activity in enquiry.activities or enquiry.state in ("granted", "asked")


def _rank(enquiry: Enquiry, lacking: tuple[str, ...]) -> tuple[object, ...]:
    covers = not lacking and enquiry.state in ("granted", "asked")
    sent = enquiry.sent_on or date.max
    return not covers, TOLD.index(enquiry.state), len(lacking), sent if covers else date.max, -enquiry.id


def _with_best(found: list[Finding], best: Enquiry, told: Finding, day: date, today: date) -> list[Finding]:
    if best.state == "granted" and not told.differences:
        return _granted(found, told)
    if best.state == "asked" and not told.differences:
        return _asked(found, told, best.sent_on, day, today)
    if best.state == "granted" and told.activity in best.activities:
        return _outside(found, told, late=today >= day)
    return _beside(found, told)


def _granted(found: list[Finding], told: Finding) -> list[Finding]:
    granted = [_answered(f, told, Answer.GRANTED, "granted") for f in found if f.answer in GRANTABLE]
    stands = [finding for finding in found if finding.answer not in GRANTABLE]
    return stands + (_once(granted) or [replace(told, answer=Answer.GRANTED, reason="granted")])


def _asked(found: list[Finding], told: Finding, sent_on: date | None, day: date, today: date) -> list[Finding]:
    waits, stands = [], []
    for finding in found:
        in_time = sent_on is not None and sent_on <= min(today, finding.by or day - timedelta(days=1))
        if in_time and finding.answer in UNANSWERED:
            waits.append(_answered(finding, told, Answer.NO_ANSWER_YET, "asked"))
        else:
            stands.append(finding)
    return stands + (_once(waits) or [replace(told, answer=Answer.NO_ANSWER_YET, reason="asked")])


def _outside(found: list[Finding], told: Finding, *, late: bool) -> list[Finding]:
    """A grant that does not cover this: permission is needed, by the rule's own day where there is one."""
    if any(finding.reason == "needed" for finding in found):
        return _beside(found, told)
    needed = replace(told, answer=Answer.TOO_LATE if late else Answer.ASK_BY, reason="outside_grant")
    return [*(finding for finding in found if finding.reason != "nothing"), needed]


def _beside(found: list[Finding], told: Finding) -> list[Finding]:
    return [replace(finding, enquiry=told.enquiry, differences=told.differences) for finding in found]


def _answered(finding: Finding, told: Finding, answer: Answer, reason: str) -> Finding:
    return replace(finding, answer=answer, reason=reason, enquiry=told.enquiry, by=None)


def _once(findings: Iterable[Finding]) -> list[Finding]:
    """One for each rule: it and its age may both have asked for the same."""
    return list({finding.rule.id if finding.rule else None: finding for finding in findings}.values())
