"""An enquiry as typed: what is asked, and the answers that may come, every problem named at once."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from datetime import date

from models.planning.rules import rule_typed
from models.planning.rules.enquiry_words import age_words
from models.planning.rules.fields import Reader, day_reader, day_text, read_fields, text_reader, understood_days
from models.planning.rules.typed import read_count
from models.planning.rules.what_if import MOST_PEOPLE
from models.problems import InputProblem, InputProblems
from models.rules.activities import ACTIVITIES
from models.rules.checking import checked_enquiry
from models.rules.enquiry import NEXT, STATES, Enquiry, EnquiryDraft
from models.store.versions import drafted

WHOM = ("to_whom", "contact")
WHAT = ("first_day", "last_day", "hours", "people")
DAYS = ("first_day", "last_day", "sent_on", "answered_on", "valid_from", "valid_to")
ANSWER = ("answered_on", "reference", "valid_from", "valid_to", "conditions")
YES = "yes"
FORM_FIELDS = {"from_time": "hours", "to_time": "hours", "area_id": "place", "spot_id": "place"}
"""The form's name of a draft's field, where it is another."""
LONGEST_NOTE = 2000
ANEW = {
    "sent_on": None,
    "answered_on": None,
    "reference": "",
    "valid_from": None,
    "valid_to": None,
    "conditions": "",
}
"""What asking anew forgets; the history and a step back keep it."""


def read_enquiry_form(form: Mapping[str, str], before: EnquiryDraft, today: date) -> EnquiryDraft:
    """The enquiry a form describes; its place, its workshop and its state are those of `before`.

    Raises InputProblems with a message beside each field that needs another look.
    """
    readers = {**_whom_readers(), **_what_readers(today), "notes": text_reader("notes")}
    return _checked(before, read_fields(form, {**readers, **_known_readers(before.state, today)}), form, today)


def read_move(form: Mapping[str, str], enquiry: Enquiry, today: date) -> tuple[EnquiryDraft, str]:
    """(the enquiry after the step that the form asks for, the note to it).

    Raises InputProblems; a step that does not lead on from its state is a problem of 'state'.
    """
    state = form.get("state", "")
    if problem := no_step(enquiry, state, today):
        raise InputProblems({"state": problem})
    before = replace(drafted(EnquiryDraft, enquiry), state=state, **(ANEW if state == "planned" else {}))  # type: ignore[arg-type]
    values = read_fields(form, {**_step_readers(state, today), "note": _note})
    note = str(values.pop("note"))
    return _checked(before, values, form if state == "granted" else None, today), note


def no_step(enquiry: EnquiryDraft, state: str, today: date) -> str:
    """Why it cannot go to this state; empty where it can."""
    if state in NEXT[enquiry.state]:
        return ""
    if state == enquiry.state:
        since = age_words(enquiry, today)
        return (
            f"this enquiry is already marked as {STATES[state]}{f' ({since})' if since else ''}. Nothing was changed."
        )
    ways = " or ".join(STATES[way] for way in NEXT[enquiry.state])
    return f"it is {STATES[enquiry.state]}; from there it can become {ways}."


def enquiry_form_of(enquiry: EnquiryDraft) -> dict[str, str]:
    """What the form shows for an enquiry; read back it gives the same."""
    texts = {name: str(getattr(enquiry, name)) for name in (*WHOM, "reference", "conditions", "notes")}
    return {
        **texts,
        **{name: day_text(getattr(enquiry, name)) for name in DAYS},
        **{activity_field(activity): YES for activity in enquiry.activities},
        "hours": rule_typed.hours_text((enquiry.from_time, enquiry.to_time)),
        "people": "" if enquiry.people is None else str(enquiry.people),
    }


def granted_form_of(enquiry: EnquiryDraft, today: date) -> dict[str, str]:
    """The form of a grant as it begins: it came today and covers what was asked."""
    return enquiry_form_of(enquiry) | {"answered_on": day_text(today)}


def known_fields(state: str) -> tuple[str, ...]:
    """The fields that the form of an enquiry in this state has besides what it asks."""
    if state == "planned":
        return ()
    return ("sent_on",) if state == "asked" else ("sent_on", *ANSWER)


def understood_enquiry(form: Mapping[str, str], today: date) -> dict[str, str]:
    """By field, how what was typed is taken; what is empty or cannot be read is left out."""
    said = understood_days(form, DAYS, today)
    with suppress(InputProblem):
        hours = rule_typed.read_hours(form.get("hours", ""))
        said |= {"hours": rule_typed.hours_words(hours)} if hours[0] else {}
    return said


def activity_field(key: str) -> str:
    """The form's name of an activity."""
    return f"asks_{key}"


def _checked(
    before: EnquiryDraft, values: dict[str, object], form: Mapping[str, str] | None, today: date
) -> EnquiryDraft:
    """form: where the activities stand; None leaves them as they are."""
    if form is not None:
        values["activities"] = tuple(key for key in ACTIVITIES if form.get(activity_field(key)) == YES)
    if values.get("first_day") and not values.get("last_day"):
        values["last_day"] = values["first_day"]
    draft = replace(before, **values)  # type: ignore[arg-type]
    try:
        return checked_enquiry(draft, today=today)
    except InputProblem as problem:
        raise InputProblems({FORM_FIELDS.get(problem.field, problem.field): problem.message}) from None


def _whom_readers() -> dict[str, Reader]:
    return {"to_whom": _whom, "contact": text_reader("contact")}


def _what_readers(today: date) -> dict[str, Reader]:
    return {
        "first_day": day_reader("first_day", today),
        "last_day": day_reader("last_day", today),
        "hours": lambda text: dict(zip(("from_time", "to_time"), rule_typed.read_hours(text), strict=True)),
        "people": lambda text: {"people": read_count("people", text, 1, MOST_PEOPLE) if text.strip() else None},
    }


def _answer_readers(today: date) -> dict[str, Reader]:
    days = {name: day_reader(name, today) for name in ("answered_on", "valid_from", "valid_to")}
    return {**days, **{name: text_reader(name) for name in ("reference", "conditions")}}


def _known_readers(state: str, today: date) -> dict[str, Reader]:
    readers = {"sent_on": day_reader("sent_on", today), **_answer_readers(today)}
    return {name: readers[name] for name in known_fields(state)}


def _step_readers(state: str, today: date) -> dict[str, Reader]:
    """What the form of a step holds besides its note; a day left empty is today."""
    sent, answered = _day_or_today("sent_on", today), _day_or_today("answered_on", today)
    return {
        "asked": {"sent_on": sent},
        "granted": {**_what_readers(today), **_answer_readers(today), "answered_on": answered},
        "refused": {"answered_on": answered, "reference": text_reader("reference")},
    }.get(state, {})


def _day_or_today(name: str, today: date) -> Reader:
    return lambda text: {name: rule_typed.read_day(name, text, today) or today}


def _whom(text: str) -> dict[str, object]:
    if not text.strip():
        raise InputProblem("to_whom", "say which office is asked.")
    return {"to_whom": text.strip()}


def _note(text: str) -> dict[str, object]:
    if len(text.strip()) > LONGEST_NOTE:
        raise InputProblem("note", f"this is {len(text.strip())} characters long: at most {LONGEST_NOTE}.")
    return {"note": text.strip()}
