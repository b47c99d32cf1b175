"""What is recorded for a footprint at a place: one of the eight answers for each activity from each who controls it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from models.rules.activities import ACTIVITIES
from models.rules.answers import ActivityFindings, Answer, Finding
from models.rules.areas import Area
from models.rules.enquiry import Enquiry
from models.rules.footprint import Footprint
from models.rules.hours import OPEN, Span, fills, touches
from models.rules.records import Records, on_record
from models.rules.replies import At, Replies, speaks
from models.rules.rule import Rule
from models.rules.working_days import Calendar, ask_by, calendar_of

CARRIED = frozenset({"stand_ground", "stand_held", "tripod", "flash_held", "group", "cable", "signs"})
"""What goes along on the walk to a spot; the rest is done there only."""
LENIENT = ("permitted", "conditions")
"""What was found that answers only where it holds from set-up to packed up; all else does where it holds at all."""
OBSTRUCTION = "obstruction"
"""What it becomes where less is left for walkers than a rule wants, whatever that rule speaks of."""
ANSWERS = {
    "not_permitted": Answer.NOT_PERMITTED,
    "none_found": Answer.NOT_CHECKED,
    "unknown": Answer.NOT_CHECKED,
    "permitted": Answer.RECORDED_PERMITTED,
    "conditions": Answer.RECORDED_PERMITTED,
}
"""By what was found, but for what is needed: that hangs on the date."""


def find(
    footprint: Footprint,
    areas: Sequence[Area],
    rules: Sequence[Rule],
    enquiries: Sequence[Enquiry],
    *,
    today: date,
    spot_id: int | None,
    calendar: Calendar,
    passed: Sequence[Area] = (),
) -> tuple[ActivityFindings, ...]:
    """All answers for each activity of the footprint, in the order of ACTIVITIES, each with the strictest first.

    areas: those that touch the spot; each is judged for every activity. The spot itself is where it has a rule that
    holds or an enquiry about it, and where no area touches it. passed: areas that forbid even passing with kit and that
    only the walk crosses; they are judged for what is carried. today: where the spot is. calendar: of the settings, for
    areas that name no holidays of their own.
    """
    records = on_record(rules, enquiries)
    return find_in(records, footprint, areas, today=today, spot_id=spot_id, calendar=calendar, passed=passed)


def find_in(
    records: Records,
    footprint: Footprint,
    areas: Sequence[Area],
    *,
    today: date,
    spot_id: int | None,
    calendar: Calendar,
    passed: Sequence[Area] = (),
) -> tuple[ActivityFindings, ...]:
    """`find` in records that are laid out once for many footprints; they may speak of other places too."""
    asked = _Asked(records, footprint, today, calendar, Replies(records, footprint, today))
    here, ids = sorted(areas, key=_area_order), {area.id for area in areas}
    there = [area for area in sorted(passed, key=_area_order) if area.id not in ids]
    amounts = footprint.doing.amounts()
    found = {
        activity: list(asked.answers(activity, amount, here, there, spot_id)) for activity, amount in amounts.items()
    }
    found.setdefault(OBSTRUCTION, []).extend(asked.narrowed(amounts, here, spot_id))
    return tuple(
        ActivityFindings(activity, tuple(sorted(found[activity], key=_order)))
        for activity in ACTIVITIES
        if found.get(activity)
    )


def strictest(found: Sequence[ActivityFindings]) -> Answer:
    """The answer that wins over all activities; not checked where there is none at all."""
    return min((each.strictest.answer for each in found), default=Answer.NOT_CHECKED)


@dataclass(frozen=True, slots=True)
class _Asked:
    """One footprint on one day. held: whether a span holds over it, which many rules share."""

    records: Records
    footprint: Footprint
    today: date
    calendar: Calendar
    replies: Replies
    held: dict[tuple[Span, bool], bool] = field(default_factory=dict)

    def answers(
        self, activity: str, amount: int, here: Sequence[Area], there: Sequence[Area], spot_id: int | None
    ) -> Iterator[Finding]:
        for area in here:
            yield from self._found(At(activity, amount, (area.id, None), area))
        spot = At(activity, amount, (None, spot_id))
        if not here or (spot_id is not None and self._speaks(spot)):
            yield from self._found(spot)
        for area in there if activity in CARRIED else ():
            yield from self._found(At(activity, amount, (area.id, None), area, passing=True))

    def narrowed(self, amounts: Mapping[str, int], here: Sequence[Area], spot_id: int | None) -> Iterator[Finding]:
        """What the widths that rules want make of it: less is left, or nobody knows how much.

        Rules about obstruction itself are left to `answers` where the footprint has it.
        """
        if not self.records.widths:
            return
        for place, area in (*(((area.id, None), area) for area in here), ((None, spot_id), None)):
            at, wanting = At(OBSTRUCTION, 1, place, area), list[Finding]()
            for rule, span in self.records.widths.get(place, ()):
                apart = rule.activity == OBSTRUCTION
                amount = 1 - amounts.get(OBSTRUCTION, 0) if apart else amounts.get(rule.activity, 0)
                if amount and self._in_reach(rule, span, amount):
                    wanting += self._of_width(rule, at)
            yield from self.replies.beside(wanting, at) if wanting else ()

    def _of_width(self, rule: Rule, at: At) -> Iterator[Finding]:
        if self.footprint.width_left_m is None:
            yield at.says(Answer.NOT_CHECKED, "width_unknown", rule)
        elif not self._is_short(rule):
            return
        elif rule.activity == OBSTRUCTION and rule.found not in LENIENT:
            yield from self._of_rule(rule, at)
        else:
            yield at.says(Answer.NOT_CHECKED, "too_narrow", rule)

    def _is_short(self, rule: Rule) -> bool:
        """Whether less is left than the rule wants, to the millimetre; a width that nobody measured may be."""
        left_m = self.footprint.width_left_m
        return rule.width_min_m is not None and (left_m is None or round(rule.width_min_m - left_m, 3) > 0)

    def _speaks(self, at: At) -> bool:
        return any(speaks(enquiry, at.activity) for _, _, enquiry in self.records.dated.get(at.place, ())) or any(
            self._holds(*rule, at.amount) for rule in self.records.rules.get((at.place, at.activity), ())
        )

    def _found(self, at: At) -> list[Finding]:
        rules = self.records.rules.get((at.place, at.activity), ())
        holding = [rule for rule, span in rules if self._holds(rule, span, at.amount)]
        found = [finding for rule in holding for finding in self._of_rule(rule, at)]
        found = found or [at.says(Answer.NOT_CHECKED, "outside_rule", rule) for rule, _ in rules]
        return self.replies.beside(found or [at.says(Answer.NOT_CHECKED, "nothing")], at)

    def _of_rule(self, rule: Rule, at: At) -> Iterator[Finding]:
        old = rule.check_again is not None and rule.check_again < max(self.today, self.footprint.day)
        if rule.found == "needed":
            yield self._needed(rule, at)
        elif not (old and rule.found in LENIENT):
            yield at.says(ANSWERS[rule.found], rule.found, rule)
        if old:
            yield at.says(Answer.TOO_OLD, "check_again", rule)

    def _needed(self, rule: Rule, at: At) -> Finding:
        by, late = None, self.today >= self.footprint.day
        if rule.lead_days is not None:
            own = at.area.holidays if at.area else ""
            calendar = calendar_of(own) if own else self.calendar
            by = ask_by(self.footprint.day, rule.lead_days, calendar, working=rule.lead_working)
            late = self.today > by
        return at.says(Answer.TOO_LATE if late else Answer.ASK_BY, "needed", rule, by)

    def _holds(self, rule: Rule, span: Span, amount: int) -> bool:
        """What is lenient holds only where the width it wants is left; what is said of obstruction, where it is not."""
        lenient = rule.found in LENIENT
        judged = rule.width_min_m is not None and (lenient or rule.activity == OBSTRUCTION)
        if judged and self._is_short(rule) == lenient:
            return False
        return self._in_reach(rule, span, amount, lenient=lenient)

    def _in_reach(self, rule: Rule, span: Span, amount: int, *, lenient: bool = False) -> bool:
        """Whether it speaks of so much, then; one that is lenient from set-up to packed up."""
        if rule.over is not None and amount <= rule.over:
            return False
        if span is OPEN:
            return True
        if (span, lenient) not in self.held:
            self.held[span, lenient] = (fills if lenient else touches)(span, self.footprint)
        return self.held[span, lenient]


def _area_order(area: Area) -> tuple[str, int]:
    return area.name, area.id


def _order(finding: Finding) -> tuple[object, ...]:
    """Strictest first, of these the earliest day to ask by, then what a rule says before what an enquiry alone does,
    then by area, the spot itself before any; the rest only so that the order is always the same.
    """
    name, number = (finding.area.name, finding.area.id) if finding.area else ("", 0)
    rule, enquiry = (record.id if record else 0 for record in (finding.rule, finding.enquiry))
    alone = finding.rule is None and finding.enquiry is not None
    return finding.answer, finding.by or date.max, alone, name, number, rule, enquiry, finding.reason
