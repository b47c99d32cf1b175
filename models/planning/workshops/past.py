"""A workshop on a past day: what that does to its people, said on its page and before it is put there.

What is personal is erased so many days after the workshop. So a wrong year typed into its day would erase everybody
within a day, for good. Therefore no change of the day makes people due for erasing: erase them first, or name another
day. A day past by less is kept, and the page says after which day they are erased.
"""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy.orm import Session

from models.clock import day_words, to_local
from models.planning.workshops.people_page import erase_days
from models.problems import InputProblem
from models.rules.workshop import Workshop, WorkshopDraft
from models.store import people as kept
from models.words.people import ITS_DAY_IS_OVER, erased_words, erasing_words
from models.workshop.people import erase_day


def past_words(s: Session, workshop: Workshop, zone: str, now: datetime) -> str:
    """That its day is over and after which day its people are erased; '' before it has ended."""
    if workshop.ends >= now:
        return ""
    days = _erase_days(s, workshop.id, to_local(workshop.ends, zone).date())
    return f"{ITS_DAY_IS_OVER} {erasing_words(len(days), min(days))}" if days else ITS_DAY_IS_OVER


def if_past(workshop: Workshop, now: datetime) -> str:
    """What is added where it is kept on a day that is past; '' else."""
    return " That is past: look at the day and the year." if workshop.ends < now else ""


def must_keep_people(s: Session, before: Workshop, draft: WorkshopDraft, zone: str, now: datetime, field: str) -> None:
    """Raises InputProblem naming the field where the new day would make people due for erasing who are not due yet."""
    today = to_local(now, zone).date()
    was, then = (to_local(each.ends, zone).date() for each in (before, draft))
    if then >= was:
        return
    due = [day for day in _erase_days(s, before.id, then) if day < today]
    if len(due) > sum(day < today for day in _erase_days(s, before.id, was)):
        raise InputProblem(
            field,
            f"{day_words(then)} is so far past that what is personal of {erased_words(len(due))} would be erased at "
            f"once: it is kept until {day_words(min(due))}. Choose a later day, or erase them on the people page "
            "first.",
        )


def _erase_days(s: Session, workshop_id: int, ended_on: date) -> list[date]:
    """Of everybody who is not erased yet, the last day on which they are kept."""
    days = erase_days(s)
    return [erase_day(each, ended_on, days) for each in kept.personal_rows(s, workshop_id=workshop_id)]
