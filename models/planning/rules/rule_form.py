"""A rule as typed in a form: every field read, every problem named at once, nothing kept without source and date."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from models.clock import day_words
from models.planning.rules import rule_typed as typed
from models.planning.rules.fields import day_text
from models.planning.rules.typed import read_width, width_text
from models.problems import InputProblem, InputProblems, noted
from models.rules.activities import ACTIVITIES
from models.rules.checking import checked_rule
from models.rules.rule import FOUND, RuleDraft

TEXTS = (
    "activity",
    "found",
    "conditions",
    "fee",
    "insurance",
    "source_title",
    "source_section",
    "source_link",
    "read_by",
)
YES = "yes"
TOLD = "Told on the spot"
USUAL_AGAIN = "1 year"
"""How long a record holds unless said: common practice, no source."""
MOST = 100_000
FORM_FIELDS = {
    "from_time": "hours", "to_time": "hours", "weekdays": "days", "first_day": "first_day", "last_day": "last_day",
    "lead_days": "lead", "lead_working": "lead", "area_id": "place", "spot_id": "place",
    "width_min_m": "width_min",
}  # fmt: skip
"""The form's name of a draft's field, where it is another."""


def read_rule_form(form: Mapping[str, str], *, area_id: int | None, spot_id: int | None, today: date) -> RuleDraft:
    """The rule a form describes, for an area or a spot.

    Raises InputProblems with a message beside each field that needs another look.
    """
    problems: dict[str, str] = {}
    values: dict[str, object] = {name: form.get(name, "").strip() for name in TEXTS}
    values["spoken"] = form.get("spoken") == YES
    if values["spoken"] and not values["source_title"]:
        values["source_title"] = TOLD
    _needed(values, problems)
    for field, read in _readers(today).items():
        with noted(problems, field):
            values |= read(form.get(field, ""))
    checked_on = values.get("checked_on")
    if isinstance(checked_on, date):
        with noted(problems, "check_again"):
            values["check_again"] = typed.read_again(form.get("check_again", ""), checked_on)
    if not problems:
        try:
            return checked_rule(RuleDraft(**values, area_id=area_id, spot_id=spot_id), today=today)  # type: ignore[arg-type]
        except InputProblem as problem:
            problems[FORM_FIELDS.get(problem.field, problem.field)] = problem.message
    raise InputProblems(problems)


def new_rule_form(today: date, activity: str = "") -> dict[str, str]:
    """Sensible values for a rule found out today."""
    chosen = activity if activity in ACTIVITIES else ""
    return {"activity": chosen, "checked_on": today.isoformat(), "check_again": USUAL_AGAIN}


def rule_form_of(rule: RuleDraft) -> dict[str, str]:
    """What the form shows for a rule; read back it gives the same rule."""
    return {name: getattr(rule, name) for name in TEXTS} | {
        "over": "" if rule.over is None else str(rule.over),
        "width_min": exact_width_text(rule.width_min_m),
        "hours": typed.hours_text((rule.from_time, rule.to_time)),
        "days": typed.days_text(rule.weekdays),
        "first_day": day_text(rule.first_day),
        "last_day": day_text(rule.last_day),
        "lead": typed.lead_text(rule.lead_days, rule.lead_working),
        "spoken": YES if rule.spoken else "",
        "checked_on": day_text(rule.checked_on),
        "check_again": day_text(rule.check_again),
    }


def understood_rule(form: Mapping[str, str], today: date) -> dict[str, str]:
    """By field, how what was typed is taken; what is empty or cannot be read is left out."""
    said: dict[str, str] = {}
    for field, words in _words(form, today).items():
        text = form.get(field, "").strip()
        if not text:
            continue
        try:
            said[field] = words(text)
        except InputProblem:
            continue
    return {field: words for field, words in said.items() if words}


def _needed(values: Mapping[str, object], problems: dict[str, str]) -> None:
    if values["activity"] not in ACTIVITIES:
        problems["activity"] = "choose what the rule speaks of."
    if values["found"] not in FOUND:
        problems["found"] = "choose what was found, “unknown” if it was not said."
    if not values["source_title"]:
        problems["source_title"] = "say where it is written, or tick that somebody told you on the spot."


def _readers(today: date) -> dict[str, Callable[[str], dict[str, object]]]:
    return {
        "over": lambda text: {"over": _over(text)},
        "width_min": lambda text: {"width_min_m": _width_min(text)},
        "hours": lambda text: dict(zip(("from_time", "to_time"), typed.read_hours(text), strict=True)),
        "days": lambda text: {"weekdays": typed.read_days(text)},
        "first_day": lambda text: {"first_day": typed.read_day("first_day", text, today)},
        "last_day": lambda text: {"last_day": typed.read_day("last_day", text, today)},
        "lead": lambda text: dict(zip(("lead_days", "lead_working"), typed.read_lead(text), strict=True)),
        "checked_on": lambda text: {"checked_on": _checked_on(text, today)},
    }


def _words(form: Mapping[str, str], today: date) -> dict[str, Callable[[str], str]]:
    def again(text: str) -> str:
        checked_on = _checked_on(form.get("checked_on", ""), today)
        day = typed.read_again(text, checked_on)
        return f"too old after {day_words(day)}" if day else "never too old"

    return {
        "over": lambda text: f"from {_over(text) + 1} on",  # type: ignore[operator]
        "width_min": lambda text: width_text(_width_min(text)),
        "hours": lambda text: typed.hours_words(typed.read_hours(text)),
        "days": lambda text: typed.days_words(typed.read_days(text)),
        "first_day": lambda text: day_words(_checked_on(text, today)),
        "last_day": lambda text: day_words(_checked_on(text, today)),
        "lead": lambda text: typed.lead_words(*typed.read_lead(text)),
        "checked_on": lambda text: day_words(_checked_on(text, today)),
        "check_again": again,
    }


def _over(text: str) -> int | None:
    bare = text.strip().lower().removeprefix("more than").removeprefix("over").strip()
    number = bare.split(" ")[0] if bare else ""
    if not bare:
        return None
    if not (number.isascii() and number.isdecimal()) or len(number) > len(str(MOST)):
        raise InputProblem("over", f"“{text}” is not a number. Type the number it begins above, like 12.")
    return int(number)


def _width_min(text: str) -> float | None:
    """To a tenth of a millimetre, so that feet and inches come back as they were."""
    width_m = read_width("width_min", text)
    return None if width_m is None else round(width_m, 4)


def exact_width_text(width_m: float | None) -> str:
    """'1.8288 m', as it may be typed again; nothing for none."""
    return "" if width_m is None else f"{width_m:.4f}".rstrip("0").rstrip(".") + " m"


def _checked_on(text: str, today: date) -> date:
    day = typed.read_day("checked_on", text, today)
    if day is None:
        raise InputProblem("checked_on", "say when it was checked: today, or a day like 17.10.")
    return day
