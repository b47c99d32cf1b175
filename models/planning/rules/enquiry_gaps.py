"""What of a workshop an enquiry leaves out at the place it speaks of, and what is found at that place alone."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import date

from sqlalchemy.orm import Session

from models.rules.answers import ActivityFindings, Answer
from models.rules.areas import Area
from models.rules.enquiry import Enquiry
from models.rules.findings import find
from models.rules.footprint import Footprint
from models.rules.rule import Rule
from models.rules.working_days import calendar_of
from models.store import rules as kept
from models.store.settings import get_setting
from models.store.spots import Spot
from models.words.rules import ANSWER_WORDS, amount_words

SETTLED = (Answer.NO_ANSWER_YET, Answer.GRANTED, Answer.RECORDED_PERMITTED)
"""What need not be asked for once more."""


def found_at_place(
    s: Session,
    area: Area | None,
    spot_id: int | None,
    footprint: Footprint,
    spot: Spot | None,
    rules: Sequence[Rule],
    enquiries: Sequence[Enquiry],
    today: date,
) -> tuple[ActivityFindings, ...]:
    """What is found for an area or a spot alone; an area that only the walk crosses is judged for what is carried.

    spot: of the workshop, None where there is none. rules, enquiries: of that place.
    """
    touching = {each.id for each in kept.areas_at(s, spot.latitude_deg, spot.longitude_deg)} if spot else set()
    here, crossed = (area,) if area else (), bool(area and spot and area.id not in touching)
    found = find(
        footprint,
        () if crossed else here,
        rules,
        enquiries,
        today=today,
        spot_id=spot_id,
        calendar=calendar_of(get_setting(s, "holidays")),
        passed=here if crossed else (),
    )
    own = area.id if area else None
    at_place = (
        ActivityFindings(each.activity, tuple(f for f in each.findings if (f.area.id if f.area else None) == own))
        for each in found
    )
    return tuple(each for each in at_place if each.findings)


def unasked(found: Iterable[ActivityFindings], activities: Collection[str]) -> tuple[str, ...]:
    """What comes along, is not among these activities and stands open there: '2 tripods: not checked: ask'."""
    return tuple(
        f"{amount_words(each.activity, each.strictest.amount)}: {ANSWER_WORDS[each.strictest.answer]}"
        for each in found
        if each.activity not in activities and each.strictest.answer not in SETTLED
    )
