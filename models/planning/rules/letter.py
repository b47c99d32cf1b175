"""The letter of an enquiry, drafted from what is known of it, with an address that opens it in a mail program."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from urllib.parse import quote

from sqlalchemy.orm import Session

from models.clock import resolve_local, zone_short
from models.planning.rules.enquiry_plan import AskedPlace
from models.rules.enquiry import EnquiryDraft
from models.rules.papers import Paper
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.settings import get_setting
from models.store.spots import Spot
from models.words.enquiry_letter import TEXTS, LetterFacts, letter
from models.words.said import listed

EMAIL = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+", re.ASCII)


@dataclass(frozen=True, slots=True)
class Letter:
    """subject, body: to copy. mailto: the same as an address (RFC 6068). gaps: what stands in it to be filled in."""

    subject: str
    body: str
    mailto: str
    gaps: tuple[str, ...]


def letter_of(
    s: Session, enquiry: EnquiryDraft, place: AskedPlace, workshop: Workshop | None, spot: Spot | None, zone: str
) -> Letter:
    """spot: of the workshop, or the one that is asked about. zone: of the local times."""
    day = enquiry.last_day or enquiry.first_day
    paper = _insurance(kept.list_papers(s), day)
    facts = LetterFacts(
        to_whom=enquiry.to_whom,
        organiser=get_setting(s, "organiser"),
        contact=get_setting(s, "organiser_contact"),
        place=", ".join(dict.fromkeys(name for name in (spot.name if spot else "", place.name) if name)),
        activities=enquiry.activities,
        doing=workshop.doing if workshop else None,
        people=enquiry.people,
        first_day=enquiry.first_day,
        last_day=enquiry.last_day,
        from_time=enquiry.from_time,
        to_time=enquiry.to_time,
        zone=_zone_words(enquiry, zone),
        width_left_m=workshop.width_left_m if workshop else None,
        insurance=_insurance_words(paper),
        insured_to=paper.valid_to if paper else None,
    )
    language = get_setting(s, "language")
    subject, body = letter(facts, language)
    gaps = tuple(gap for gap in TEXTS[language].gaps.values() if gap in subject + body)
    return Letter(subject, body, _mailto(enquiry.contact, subject, body), gaps)


def _insurance(papers: tuple[Paper, ...], day: date | None) -> Paper | None:
    """One that is valid on that day, the longest; None where none is known to be."""
    valid = [paper for paper in papers if paper.kind == "insurance" and day and _covers_day(paper, day)]
    return max(valid, key=lambda paper: (paper.valid_to or date.min, -paper.id), default=None)


def _covers_day(paper: Paper, day: date) -> bool:
    return (paper.valid_from or day) <= day <= (paper.valid_to or date.min)


def _insurance_words(paper: Paper | None) -> str:
    if paper is None:
        return ""
    covers = [
        what
        for what, covered in (("teaching", paper.covers_teaching), ("hired models", paper.covers_models))
        if covered
    ]
    parts = (paper.title, paper.insured_sum, paper.reference, f"covers {listed(covers)}" if covers else "")
    return ", ".join(part.rstrip(".") for part in parts if part)


def _zone_words(enquiry: EnquiryDraft, zone: str) -> str:
    """The short name of the time in force at setting up; empty where the day or the hour is not known."""
    if enquiry.first_day is None or enquiry.from_time is None:
        return ""
    try:
        return zone_short(resolve_local(enquiry.first_day, enquiry.from_time, zone, fold=0), zone)
    except ValueError:
        return ""


def _mailto(contact: str, subject: str, body: str) -> str:
    found = EMAIL.search(contact)
    to = quote(found[0], safe="@") if found else ""
    lines = body.replace("\n", "\r\n")  # as RFC 6068 wants them
    return f"mailto:{to}?subject={quote(subject, safe='')}&body={quote(lines, safe='')}"
