"""What enquiries change of what the rules of one place say: a grant, a question still open, a refusal."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta

from models.rules.answers import Answer, Finding
from models.rules.areas import Area
from models.rules.coverage import differences, unnamed
from models.rules.enquiry import Enquiry
from models.rules.footprint import Footprint
from models.rules.records import TOLD, Place, Records, asks_or_grants
from models.rules.rule import Rule

UNANSWERED = (Answer.TOO_LATE, Answer.ASK_BY, Answer.NOT_CHECKED)
"""What a question sent in time turns into waiting for its answer."""
GRANTABLE = (*UNANSWERED, Answer.TOO_OLD, Answer.NO_ANSWER_YET)
"""What a grant that covers it turns into granted: never a record or a word that it is not permitted."""


@dataclass(frozen=True, slots=True)
class At:
    """One activity at one place: an area, the spot itself (area None), or an area that only the walk crosses."""

    activity: str
    amount: int
    place: Place
    area: Area | None = None
    passing: bool = False

    def says(
        self,
        answer: Answer,
        reason: str,
        rule: Rule | None = None,
        by: date | None = None,
        enquiry: Enquiry | None = None,
        differences: tuple[str, ...] = (),
    ) -> Finding:
        return Finding(
            activity=self.activity,
            amount=self.amount,
            answer=answer,
            reason=reason,
            area=self.area,
            rule=rule,
            enquiry=enquiry,
            by=by,
            differences=differences,
            passing=self.passing,
        )


@dataclass(slots=True)
class Replies:
    """For one footprint; keeps what its activities share: what each enquiry lacks, and which are near in each place."""

    records: Records
    footprint: Footprint
    today: date
    lacking: dict[int, tuple[str, ...]] = field(default_factory=dict)
    near: dict[Place, list[Enquiry]] = field(default_factory=dict)

    def beside(self, found: list[Finding], at: At) -> list[Finding]:
        """The findings of one place and activity with what was asked and answered about it.

        Of several enquiries the best speaks: a grant that covers this, a question that does, any other; a refusal for
        that day speaks besides.
        """
        if at.place not in self.records.dated:
            return found
        near = self._near(at.place)
        refused = [enquiry for enquiry in near if refuses(enquiry, at.activity)]
        best = self._best(at, near, refused)
        if best:
            found = self._with_best(found, best, at)
        if refused:
            found = [finding for finding in found if finding.reason != "nothing"]
            found += [at.says(Answer.NOT_PERMITTED, "refused", enquiry=enquiry) for enquiry in refused]
        return found

    def _near(self, place: Place) -> list[Enquiry]:
        """Those whose days, as far as they are named, have the day among them."""
        if place not in self.near:
            day, dated = self.footprint.day, self.records.dated[place]
            self.near[place] = [enquiry for first, last, enquiry in dated if first <= day <= last]
        return self.near[place]

    def _best(self, at: At, near: list[Enquiry], refused: list[Enquiry]) -> Enquiry | None:
        """Of those for other days it can only be the first that is told."""
        told = self.records.told.get((at.place, at.activity), ())
        chosen = [enquiry for enquiry in near if enquiry not in refused and _bears(enquiry, at.activity)]
        other = next((enquiry for enquiry in told if enquiry not in refused), None)
        if other and other not in near:
            chosen.append(other)
        if len(chosen) < 2:
            return chosen[0] if chosen else None
        return min(chosen, key=lambda enquiry: self._rank(enquiry, at.activity, near))

    def _rank(self, enquiry: Enquiry, activity: str, near: list[Enquiry]) -> tuple[object, ...]:
        lacks, other_day = self._lacks(enquiry, activity), enquiry not in near
        covers = not lacks and asks_or_grants(enquiry)
        sent = (enquiry.sent_on or date.max) if covers else date.max
        return not covers, TOLD.index(enquiry.state), other_day, len(lacks), sent, -enquiry.id

    def _lacks(self, enquiry: Enquiry, activity: str) -> tuple[str, ...]:
        if enquiry.id not in self.lacking:
            self.lacking[enquiry.id] = differences(enquiry, self.footprint)
        return (*unnamed(enquiry, activity), *self.lacking[enquiry.id])

    def _with_best(self, found: list[Finding], best: Enquiry, at: At) -> list[Finding]:
        lacks, day = self._lacks(best, at.activity), self.footprint.day
        if best.state == "granted" and not lacks:
            return _granted(found, best, at)
        if best.state == "asked" and not lacks:
            return _asked(found, best, at, day, self.today)
        if best.state == "granted" and at.activity in best.activities and not any(f.reason == "needed" for f in found):
            late = Answer.TOO_LATE if self.today >= day else Answer.ASK_BY
            needed = at.says(late, "outside_grant", enquiry=best, differences=lacks)
            return [*(finding for finding in found if finding.reason != "nothing"), needed]
        return [at.says(f.answer, f.reason, f.rule, f.by, best, lacks) for f in found]


def refuses(enquiry: Enquiry, activity: str) -> bool:
    """On its days; a refusal that names no activity refuses all of them."""
    return enquiry.state == "refused" and (not enquiry.activities or activity in enquiry.activities)


def speaks(enquiry: Enquiry, activity: str) -> bool:
    """Whether a place of which nothing else is recorded must be judged for this activity because of it."""
    return refuses(enquiry, activity) or (asks_or_grants(enquiry) and activity in enquiry.activities)


def _bears(enquiry: Enquiry, activity: str) -> bool:
    return asks_or_grants(enquiry) or activity in enquiry.activities


def _granted(found: list[Finding], grant: Enquiry, at: At) -> list[Finding]:
    stands = [finding for finding in found if finding.answer not in GRANTABLE]
    return stands + _once([finding.rule for finding in found if finding.answer in GRANTABLE], Answer.GRANTED, grant, at)


def _asked(found: list[Finding], question: Enquiry, at: At, day: date, today: date) -> list[Finding]:
    waits: list[Finding] = []
    stands: list[Finding] = []
    for finding in found:
        due = min(today, finding.by or day - timedelta(days=1))
        in_time = question.sent_on is not None and question.sent_on <= due
        (waits if in_time and finding.answer in UNANSWERED else stands).append(finding)
    return stands + _once([finding.rule for finding in waits], Answer.NO_ANSWER_YET, question, at)


def _once(rules: list[Rule | None], answer: Answer, reply: Enquiry, at: At) -> list[Finding]:
    """One for each rule, since it and its age may both have asked for the same; one by itself where there is none."""
    each = {rule.id if rule else None: rule for rule in rules or [None]}
    return [at.says(answer, reply.state, rule, enquiry=reply) for rule in each.values()]
