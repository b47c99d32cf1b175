"""What is recorded for a footprint at a place: one of the eight answers for each activity from each who controls it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

from models.rules.activities import ACTIVITIES
from models.rules.answers import ActivityFindings, Answer, Finding
from models.rules.areas import Area
from models.rules.enquiry import Enquiry
from models.rules.footprint import Footprint
from models.rules.hours import Span, fills, touches
from models.rules.replies import speaks, with_replies
from models.rules.rule import Rule
from models.rules.working_days import Calendar, ask_by, calendar_of

Placed = TypeVar("Placed", Rule, Enquiry)
CARRIED = frozenset({"stand_ground", "stand_held", "tripod", "flash_held", "group", "cable", "signs"})
"""What goes along on the walk to a spot; the rest is done there only."""
LENIENT = {"permitted": Answer.RECORDED_PERMITTED, "conditions": Answer.RECORDED_PERMITTED}
"""What was found that answers only where it holds from set-up to packed up; all else does where it holds at all."""
SILENT = {"none_found": Answer.NOT_CHECKED, "unknown": Answer.NOT_CHECKED}


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
    asked = _Asked(footprint, today, calendar, _by_place(rules), _by_place(enquiries))
    here, ids = sorted(areas, key=_area_order), {area.id for area in areas}
    there = [area for area in sorted(passed, key=_area_order) if area.id not in ids]
    amounts = footprint.doing.amounts()
    return tuple(
        ActivityFindings(activity, tuple(sorted(asked.answers(activity, amount, here, there, spot_id), key=_order)))
        for activity in ACTIVITIES
        if (amount := amounts.get(activity))
    )


def strictest(found: Sequence[ActivityFindings]) -> Answer:
    """The answer that wins over all activities; not checked where there is none at all."""
    return min((each.strictest.answer for each in found), default=Answer.NOT_CHECKED)


Place = tuple[int | None, int | None]
"""Number of an area, or of a spot."""


@dataclass(frozen=True, slots=True)
class _Asked:
    footprint: Footprint
    today: date
    calendar: Calendar
    rules: Mapping[Place, Sequence[Rule]]
    enquiries: Mapping[Place, Sequence[Enquiry]]

    def answers(
        self, activity: str, amount: int, here: Sequence[Area], there: Sequence[Area], spot_id: int | None
    ) -> Iterator[Finding]:
        nothing = Finding(activity=activity, amount=amount, answer=Answer.NOT_CHECKED, reason="nothing")
        spot: Place = (None, spot_id)
        for area in here:
            yield from self._at((area.id, None), replace(nothing, area=area))
        if not here or (spot_id is not None and self._spot_speaks(spot, activity, amount)):
            yield from self._at(spot, nothing)
        for area in there if activity in CARRIED else ():
            yield from self._at((area.id, None), replace(nothing, area=area, passing=True))

    def _spot_speaks(self, spot: Place, activity: str, amount: int) -> bool:
        return any(speaks(enquiry, activity) for enquiry in self.enquiries.get(spot, ())) or any(
            rule.activity == activity and _holds(rule, amount, self.footprint) for rule in self.rules.get(spot, ())
        )

    def _at(self, place: Place, nothing: Finding) -> list[Finding]:
        rules = [rule for rule in self.rules.get(place, ()) if rule.activity == nothing.activity]
        found = [
            finding
            for rule in rules
            if _holds(rule, nothing.amount, self.footprint)
            for finding in self._of_rule(rule, replace(nothing, rule=rule, reason=rule.found))
        ]
        found = found or [replace(nothing, rule=rule, reason="outside_rule") for rule in rules] or [nothing]
        return with_replies(found, self.enquiries.get(place, ()), nothing, self.footprint, self.today)

    def _of_rule(self, rule: Rule, said: Finding) -> Iterator[Finding]:
        old = rule.check_again is not None and rule.check_again < max(self.today, self.footprint.day)
        if rule.found == "needed":
            yield self._needed(rule, said)
        elif not (old and rule.found in LENIENT):
            yield replace(said, answer=(LENIENT | SILENT).get(rule.found, Answer.NOT_PERMITTED))
        if old:
            yield replace(said, answer=Answer.TOO_OLD, reason="check_again")

    def _needed(self, rule: Rule, said: Finding) -> Finding:
        if rule.lead_days is None:
            late = self.today >= self.footprint.day
            return replace(said, answer=Answer.TOO_LATE if late else Answer.ASK_BY)
        own = said.area.holidays if said.area else ""
        calendar = calendar_of(own) if own else self.calendar
        by = ask_by(self.footprint.day, rule.lead_days, calendar, working=rule.lead_working)
        return replace(said, answer=Answer.TOO_LATE if self.today > by else Answer.ASK_BY, by=by)


def _holds(rule: Rule, amount: int, footprint: Footprint) -> bool:
    if rule.over is not None and amount <= rule.over:
        return False
    span = Span(
        first_day=rule.first_day,
        last_day=rule.last_day,
        weekdays=rule.weekdays,
        from_time=rule.from_time,
        to_time=rule.to_time,
    )
    return (fills if rule.found in LENIENT else touches)(span, footprint)


def _by_place(records: Sequence[Placed]) -> Mapping[Place, Sequence[Placed]]:
    placed: dict[Place, list[Placed]] = defaultdict(list)
    for record in records:
        placed[record.area_id, record.spot_id].append(record)
    return placed


def _area_order(area: Area) -> tuple[str, int]:
    return area.name, area.id


def _order(finding: Finding) -> tuple[object, ...]:
    """Strictest first, then by area, the spot itself before any; the rest only so that the order is always the same."""
    name, number = (finding.area.name, finding.area.id) if finding.area else ("", 0)
    rule, enquiry = (record.id if record else 0 for record in (finding.rule, finding.enquiry))
    return finding.answer, name, number, rule, enquiry, finding.reason
