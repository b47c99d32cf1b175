"""What must be asked of whom, by when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from models.rules.answers import ActivityFindings, Answer, Finding
from models.rules.areas import Area

TO_ASK = (Answer.TOO_LATE, Answer.ASK_BY, Answer.NOT_CHECKED, Answer.TOO_OLD)


@dataclass(frozen=True, slots=True)
class Deadline:
    """One question to one place: what must be asked there by the same day.

    area: None for the spot itself or where nothing is recorded. by: None where no lead time is recorded: ask now.
    activities: in the order of ACTIVITIES. findings: one or more for each.
    """

    area: Area | None
    by: date | None
    activities: tuple[str, ...]
    findings: tuple[Finding, ...]

    def overdue(self, today: date) -> bool:
        """The day has passed, with a grant or an answer or without."""
        return self.by is not None and today > self.by


def deadlines(found: Sequence[ActivityFindings]) -> tuple[Deadline, ...]:
    """All that must be asked, by date, so that what is overdue comes first; last what has no date, by area name."""
    groups: dict[tuple[int | None, date | None], list[Finding]] = {}
    for finding in (finding for each in found for finding in each.findings if finding.answer in TO_ASK):
        groups.setdefault((finding.area.id if finding.area else None, finding.by), []).append(finding)
    made = [
        Deadline(several[0].area, by, tuple(dict.fromkeys(one.activity for one in several)), tuple(several))
        for (_, by), several in groups.items()
    ]
    return tuple(sorted(made, key=_order))


def _order(deadline: Deadline) -> tuple[object, ...]:
    area = deadline.area
    return deadline.by or date.max, area.name if area else "", area.id if area else 0
