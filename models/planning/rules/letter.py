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
from models.words.still_open import LACKS

EMAIL = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+", re.ASCII)
COVERS = {"teaching": "teaching", "models": "hired models"}
"""What an insurance is asked about, of ACTIVITIES, in words."""


@dataclass(frozen=True, slots=True)
class Letter:
    """subject, body: to copy. mailto: the same as an address (RFC 6068). gaps: what stands in it to be filled in.

    insurance_lacks: what of this enquiry the insurance named in it does not cover, or nobody looked whether it does.
    """

    subject: str
    body: str
    mailto: str
    gaps: tuple[str, ...]
    insurance_lacks: str


def letter_of(
    s: Session, enquiry: EnquiryDraft, place: AskedPlace, workshop: Workshop | None, spot: Spot | None, zone: str
) -> Letter:
    """spot: of the workshop, or the one that is asked about. zone: of the local times."""
    day = enquiry.last_day or enquiry.first_day
    doing = workshop.doing if workshop else None
    needs = tuple(key for key in COVERS if key in enquiry.activities or (doing and key in doing.amounts()))
    paper = _insurance(kept.list_papers(s), day, needs)
    facts = LetterFacts(
        to_whom=enquiry.to_whom,
        organiser=get_setting(s, "organiser"),
        contact=get_setting(s, "organiser_contact"),
        place=", ".join(dict.fromkeys(name for name in (spot.name if spot else "", place.name) if name)),
        activities=enquiry.activities,
        doing=doing,
        people=enquiry.people,
        first_day=enquiry.first_day,
        last_day=enquiry.last_day,
        from_time=enquiry.from_time,
        to_time=enquiry.to_time,
        zone=zone_words(enquiry, zone),
        width_left_m=workshop.width_left_m if workshop else None,
        insurance=_insurance_words(paper, needs),
        insured_to=paper.valid_to if paper else None,
    )
    language = get_setting(s, "language")
    subject, body = letter(facts, language)
    gaps = tuple(gap for gap in TEXTS[language].gaps.values() if gap in subject + body)
    return Letter(subject, body, _mailto(enquiry.contact, subject, body), gaps, _lacks(paper, needs))


def zone_words(enquiry: EnquiryDraft, zone: str) -> str:
    """The short name of the time in force at setting up; empty where the day or the hour is not known."""
    if enquiry.first_day is None or enquiry.from_time is None:
        return ""
    try:
        return zone_short(resolve_local(enquiry.first_day, enquiry.from_time, zone, fold=0), zone)
    except ValueError:
        return ""


def _insurance(papers: tuple[Paper, ...], day: date | None, needs: tuple[str, ...]) -> Paper | None:
    """One that is valid on that day, the one that is known to cover most, then the longest; None where none is."""
    valid = [paper for paper in papers if paper.kind == "insurance" and day and _covers_day(paper, day)]
    return max(valid, key=lambda paper: (*_cover(paper, needs), paper.valid_to or date.min, -paper.id), default=None)


def _cover(paper: Paper, needs: tuple[str, ...]) -> tuple[int, int]:
    """How much of this it covers, and the fewer it is known not to cover the better."""
    answers = [_answer(paper, key) for key in needs]
    return answers.count(True), -answers.count(False)


def _answer(paper: Paper, key: str) -> bool | None:
    return paper.covers_teaching if key == "teaching" else paper.covers_models


def _covers_day(paper: Paper, day: date) -> bool:
    return (paper.valid_from or day) <= day <= (paper.valid_to or date.min)


def _insurance_words(paper: Paper | None, needs: tuple[str, ...]) -> str:
    """What is known of it; what it is known not to cover is said where that is needed."""
    if paper is None:
        return ""
    covers = [words for key, words in COVERS.items() if _answer(paper, key)]
    lacks = [words for key, words in COVERS.items() if key in needs and _answer(paper, key) is False]
    said = (f"covers {listed(covers)}" if covers else "", f"does not cover {listed(lacks)}" if lacks else "")
    return ", ".join(part.rstrip(".") for part in (paper.title, paper.insured_sum, paper.reference, *said) if part)


def _lacks(paper: Paper | None, needs: tuple[str, ...]) -> str:
    """'Liability: it does not cover teaching', or nothing."""
    if paper is None:
        return ""
    reasons = [
        LACKS[f"not_{key}" if _answer(paper, key) is False else f"{key}_not_known"]
        for key in needs
        if not _answer(paper, key)
    ]
    return f"{paper.title.rstrip('.')}: {listed(reasons)}" if reasons else ""


def _mailto(contact: str, subject: str, body: str) -> str:
    found = EMAIL.search(contact)
    to = quote(found[0], safe="@") if found else ""
    lines = body.replace("\n", "\r\n")  # as RFC 6068 wants them
    return f"mailto:{to}?subject={quote(subject, safe='')}&body={quote(lines, safe='')}"
