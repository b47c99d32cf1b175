"""What is said of a finding: the answer, why, whom to ask, what to say. A record of what was asked, no permission."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from models.clock import day_words
from models.rules.activities import ACTIVITIES
from models.rules.answers import ActivityFindings, Answer, Finding
from models.rules.enquiry import Enquiry
from models.rules.rule import FOUND, Rule
from models.words.said import listed
from models.words.street import as_told

STANDING_NOTE = "Local codes and licensed practice decide; this is a record of what was asked."

ANSWER_WORDS: dict[Answer, str] = {
    Answer.NOT_PERMITTED: "recorded as not permitted",
    Answer.TOO_LATE: "permission needed, the day to ask by has passed",
    Answer.ASK_BY: "permission needed: ask",
    Answer.NOT_CHECKED: "not checked: ask",
    Answer.TOO_OLD: "record too old: check again",
    Answer.NO_ANSWER_YET: "asked, no answer yet",
    Answer.GRANTED: "granted on record: carry it",
    Answer.RECORDED_PERMITTED: "recorded as permitted: confirm",
}
"""Short, for lists."""

AMOUNTS: dict[str, tuple[str, str]] = {
    "stand_ground": ("1 stand on the ground", "{} stands on the ground"),
    "stand_held": ("1 hand-held stand", "{} hand-held stands"),
    "tripod": ("1 tripod", "{} tripods"),
    "flash_held": ("1 hand-held flash", "{} hand-held flashes"),
    "group": ("1 person", "a group of {} people"),
    "teaching": ("paid teaching", "paid teaching"),
    "models": ("1 model", "{} models"),
    "obstruction": ("obstruction of the footway", "obstruction of the footway"),
    "cable": ("a cable or generator", "a cable or generator"),
    "vehicle": ("a vehicle", "a vehicle"),
    "signs": ("signs", "signs"),
    "filming": ("filming", "filming"),
}
"""For one, and for several."""

SAY: dict[Answer, str] = {
    Answer.NOT_PERMITTED: "“Is this still so? Is there another place or another time that we could ask about?”",
    Answer.TOO_LATE: "“We are late in asking about {what}. Can you still decide on it for that day?”",
    Answer.ASK_BY: "“We plan {what} here and ask for permission. Please give us your conditions in writing.”",
    Answer.NOT_CHECKED: "“Is there a rule about {what} here? Whom do we ask, how long before, and what does it cost?”",
    Answer.TOO_OLD: "“Our note about {what} here is of {checked}. What holds now, and where can we read it?”",
    Answer.NO_ANSWER_YET: "“We wrote {sent} about {what}. Is there an answer, or is there something you still need?”",
    Answer.GRANTED: "“Here is what was granted: {reference}. It names this day, these hours and how many we are.”",
    Answer.RECORDED_PERMITTED: "“Our note about {what} here is of {checked}. Does it still hold on that day?”",
}

WIDTH_REASONS = {
    "too_narrow": "and less is left by your plan",
    "width_unknown": "and the width left is not measured: measure it and put it into the plan",
}
SAY_WIDTH = "“How much of the pavement must stay free here, measured from where to where?”"
HAND_HELD = (
    "Something to ask about instead: a hand-held stand, its feet folded and its weight off the ground, "
    "held by a person all the time."
)
OTHER_WAY = "Something to look for: another way there, round {place}."
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def answer_words(finding: Finding, today: date) -> str:
    """The answer in a sentence or two, with its date."""
    answer, rule, enquiry = finding.answer, finding.rule, finding.enquiry
    if answer == Answer.NOT_PERMITTED and finding.reason == "refused" and enquiry:
        return f"Refused{_on(enquiry.answered_on)}."
    if answer == Answer.TOO_LATE:
        passed = f"the day to ask by, {day_words(finding.by)}, has passed" if finding.by else "it is too late to ask"
        return f"Permission needed, and {passed}."
    if answer == Answer.ASK_BY:
        return f"Permission needed: ask {_when(finding.by, today)}."
    if answer == Answer.TOO_OLD and rule:
        return f"Record too old: check again. It was checked on {day_words(rule.checked_on)}."
    if answer == Answer.NO_ANSWER_YET and enquiry:
        return f"Asked{_on(enquiry.sent_on)}, no answer yet."
    if answer == Answer.GRANTED and enquiry:
        return f"Granted{_on(enquiry.answered_on)}, and it covers this: {_reference(enquiry)}. Carry it."
    if answer == Answer.RECORDED_PERMITTED and rule:
        with_them = ", with conditions" if rule.found == "conditions" else ""
        return f"Recorded as permitted on {day_words(rule.checked_on)}{with_them}: confirm."
    if finding.reason == "width_unknown" and answer == Answer.NOT_CHECKED:
        return "Not checked: measure the width left, then ask."
    return {Answer.NOT_PERMITTED: "Recorded as not permitted."}.get(answer, "Not checked: ask.")


def why_words(finding: Finding) -> str:
    """What the answer rests on: the record with its source, the enquiry, or that there is none."""
    return " ".join(_why(finding))


def ask_words(finding: Finding, controller: str = "") -> str:
    """Whom to ask. controller: who is noted as controlling the spot."""
    area, enquiry = finding.area, finding.enquiry
    if area:
        return f"Ask {_joined(area.authority, area.contact, area.web)}."
    if enquiry:
        return f"Ask {_joined(enquiry.to_whom, enquiry.contact)}."
    if controller:
        return f"Ask {controller.rstrip('.')}."
    return "Find out who controls this ground, and ask them."


def say_words(finding: Finding) -> str:
    """What to say to them."""
    if finding.reason in WIDTH_REASONS:
        return SAY_WIDTH
    rule, enquiry = finding.rule, finding.enquiry
    return SAY[finding.answer].format(
        what=amount_words(finding.activity, finding.amount),
        checked=day_words(rule.checked_on) if rule else "an earlier day",
        sent=_on(enquiry.sent_on if enquiry else None).strip() or "to you",
        reference=_reference(enquiry) if enquiry else "",
    )


def way_round_words(found: Sequence[ActivityFindings], finding: Finding) -> str:
    """What else could be asked about, with what is recorded of it there; "" where there is nothing.

    Never a way round asking: a stand held by a person is something to ask about like one that stands.
    """
    if finding.answer in (Answer.GRANTED, Answer.RECORDED_PERMITTED):
        return ""
    if finding.passing:
        return OTHER_WAY.format(place=place_words(finding))
    if finding.activity != "stand_ground":
        return ""
    there = [one for each in found if each.activity == "stand_held" for one in each.findings if _same(one, finding)]
    if any(one.answer == Answer.NOT_PERMITTED for one in there):
        return ""
    recorded = ANSWER_WORDS[there[0].answer] if there else "not looked up for this footprint"
    return f"{HAND_HELD} On record there: {recorded}."


def place_words(finding: Finding) -> str:
    """'Old town streets', or 'this spot'."""
    return finding.area.name if finding.area else "this spot"


def amount_words(activity: str, amount: int) -> str:
    """'3 stands on the ground', 'a group of 9 people', 'paid teaching'."""
    return AMOUNTS[activity][amount != 1].format(amount)


def source_words(rule: Rule) -> str:
    """'Public Places By-law, section 4 (read by Ines on Monday 14 September 2026)', or that somebody said it."""
    source = _joined(rule.source_title, rule.source_section)
    if rule.spoken:
        by = f", noted by {rule.read_by}" if rule.read_by else ""
        return f"{source} (said on the spot on {day_words(rule.checked_on)}{by}; nothing in writing)"
    by = f"read by {rule.read_by} on" if rule.read_by else "read on"
    return f"{source} ({by} {day_words(rule.checked_on)})"


def limits_words(rule: Rule) -> str:
    """'more than 10 people; Monday and Friday; 08:00 to 18:00'; '' where it holds for all and always."""
    return "; ".join(_limits(rule))


def width_asked_words(rule: Rule) -> str:
    """'1.50 m to be left for walkers', '' where it names no width."""
    return "" if rule.width_min_m is None else f"{as_told(rule.width_min_m)} to be left for walkers"


def _why(finding: Finding) -> Iterator[str]:
    rule, enquiry = finding.rule, finding.enquiry
    if finding.passing:
        yield f"On the walk there, through {place_words(finding)}."
    if finding.reason == "refused" and enquiry:
        yield f"{enquiry.to_whom} refused it{_on(enquiry.answered_on)}: {_reference(enquiry)}."
    if rule:
        yield from _rule(finding, rule)
    elif finding.reason == "nothing":
        yield _nothing(finding)
    if finding.reason != "refused" and enquiry:
        yield from _enquiry(finding, enquiry)


def _nothing(finding: Finding) -> str:
    if finding.area is None and finding.enquiry is None:
        return "No rule area touches this spot, and nothing is recorded for the spot itself."
    return f"Nothing is recorded about {amount_words(finding.activity, finding.amount)} for {place_words(finding)}."


def _rule(finding: Finding, rule: Rule) -> Iterator[str]:
    found = FOUND[rule.found]
    if finding.reason == "outside_rule":
        yield f"{source_words(rule)}: {found}, for {limits_words(rule)}. Your plan lies outside that."
        return
    if finding.reason in WIDTH_REASONS and rule.width_min_m is not None:
        yield f"{source_words(rule)}: it asks for {width_asked_words(rule)}, {WIDTH_REASONS[finding.reason]}."
        return
    yield f"{source_words(rule)}: {found}."
    if finding.reason == "check_again" and rule.check_again:
        yield f"It was to be checked again after {day_words(rule.check_again)}."
    if limits := limits_words(rule):
        yield f"It speaks of {limits}."
    if rule.conditions:
        yield f"Conditions: “{rule.conditions.rstrip('.')}”."
    if rule.width_min_m is not None and not _width_limits(rule):
        yield f"It asks for {width_asked_words(rule)}."
    if rule.lead_days is not None:
        kind = "working day" if rule.lead_working else "day"
        yield f"To be asked {rule.lead_days} clear {kind}{'' if rule.lead_days == 1 else 's'} before."
    for name, value in (("Fee", rule.fee), ("Insurance asked for", rule.insurance)):
        if value:
            yield f"{name}: {value.rstrip('.')}."


def _enquiry(finding: Finding, enquiry: Enquiry) -> Iterator[str]:
    whom, lacking, reference = enquiry.to_whom, "; ".join(finding.differences), _reference(enquiry)
    sent, answered = _on(enquiry.sent_on), _on(enquiry.answered_on)
    if enquiry.state == "granted":
        what = f"something else{answered}, {reference}" if lacking else f"it{answered}: {reference}"
        yield f"{whom} granted {what}{f': {lacking}' if lacking else ''}."
        if enquiry.conditions:
            yield f"Conditions: “{enquiry.conditions.rstrip('.')}”."
    elif enquiry.state == "asked":
        yield f"{whom} was asked{sent}, {f'but not about this: {lacking}' if lacking else reference}."
    elif enquiry.state == "refused":
        yield f"{whom} refused it{answered} for other days."
    elif enquiry.state == "planned":
        yield f"An enquiry to {whom} is planned and not sent{f', and not about this: {lacking}' if lacking else ''}."
    else:
        yield f"An earlier enquiry to {whom} {'has lapsed' if enquiry.state == 'lapsed' else 'was withdrawn'}."


def _limits(rule: Rule) -> Iterator[str]:
    if rule.over is not None:
        yield f"more than {rule.over} {ACTIVITIES[rule.activity].counted}" if rule.over != 1 else "more than one"
    if rule.width_min_m is not None and _width_limits(rule):
        yield f"{_width_limits(rule)} {as_told(rule.width_min_m)} left for walkers"
    if rule.weekdays:
        yield listed([WEEKDAYS[day] for day in rule.weekdays])
    if rule.first_day or rule.last_day:
        begins = f"from {day_words(rule.first_day)} " if rule.first_day else ""
        yield (begins + (f"to {day_words(rule.last_day)}" if rule.last_day else "on")).strip()
    if rule.from_time is not None and rule.to_time is not None:
        yield f"{rule.from_time:%H:%M} to {rule.to_time:%H:%M}"


def _width_limits(rule: Rule) -> str:
    """How the width it wants left bounds what it says; '' where it is asked for besides."""
    if rule.found in ("permitted", "conditions"):
        return "at least"
    return "less than" if rule.activity == "obstruction" else ""


def _when(by: date | None, today: date) -> str:
    if by is None:
        return "now. No lead time is recorded"
    left = (by - today).days
    near = {0: ", which is today", 1: ", which is tomorrow"}.get(left, f", in {left} days")
    return f"by {day_words(by)}{near}"


def _on(day: date | None) -> str:
    return f" on {day_words(day)}" if day else ""


def _reference(enquiry: Enquiry) -> str:
    return f"reference {enquiry.reference}" if enquiry.reference else "no reference noted"


def _joined(*parts: str) -> str:
    return ", ".join(part.strip().rstrip(".") for part in parts if part.strip())


def _same(one: Finding, other: Finding) -> bool:
    return (one.area.id if one.area else None) == (other.area.id if other.area else None)
