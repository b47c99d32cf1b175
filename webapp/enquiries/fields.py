"""The fields of an enquiry's form in their groups, and of the steps it can take."""

from __future__ import annotations

from dataclasses import dataclass

from models.planning.rules.enquiry_form import known_fields
from models.rules.activities import ACTIVITIES as ACTIVITIES
from models.rules.enquiry import Enquiry
from webapp.spots.fields import Field, Group

DAY_HINT = "Like 2026-10-17, 17.10. or 17 Oct."
WHOM = Group("Who is asked", (
    Field("to_whom", "To whom", "wide", hint="The office that decides about this ground."),
    Field("contact", "Contact", "wide",
          "", "An office's e-mail address, telephone or counter; no private person's."),
))  # fmt: skip
WHAT = (
    Field("first_day", "Day", hint=DAY_HINT),
    Field("last_day", "To", hint="Empty for that one day."),
    Field("hours", "Set up to packed up", hint="Local time there, like 17:00-19:30."),
    Field("people", "People", "short", "heads", "Everybody who stands there, models and helpers too."),
)
NOTES = Field("notes", "Notes", "text", hint="For yourself; they do not go into the letter.")
ANSWERED = (
    Field("answered_on", "Answered on", hint="Like today, 17.10. or 2026-10-17."),
    Field("reference", "Reference", hint="As their letter has it."),
    Field("valid_from", "Valid from", hint="Empty where it says nothing."),
    Field("valid_to", "Valid to"),
    Field("conditions", "Conditions", "text", hint="In their words."),
)
KNOWN = {field.name: field for field in (Field("sent_on", "Sent on"), *ANSWERED)}
NOTE = Field("note", "Note", "wide", hint="Who said so, how it came. It goes into the history.")


@dataclass(frozen=True, slots=True)
class Step:
    """A step to a state: its title, its button, what it means, and what is said with it."""

    state: str
    title: str
    button: str
    words: str
    fields: tuple[Field, ...] = ()


STEPS: dict[str, Step] = {
    step.state: step
    for step in (
        Step("asked", "It was sent", "Keep as asked", "From that day on an answer is waited for.", (KNOWN["sent_on"],)),
        Step("granted", "It was granted", "Keep as granted",
             "Write down what the grant covers, narrower than what you asked if it is. "
             "What it does not name it does not cover.", ANSWERED),
        Step("refused", "It was refused", "Keep as refused",
             "It stands for the days and the activities that were asked for.", ANSWERED[:2]),
        Step("withdrawn", "Withdraw it", "Withdraw it", "You do not want it any more, and told them so."),
        Step("lapsed", "It lapsed", "Keep as lapsed", "Its time ran out, or the answer never came."),
        Step("planned", "Ask anew", "Plan it anew",
             "The same question once more; the history keeps what was said so far."),
    )
}  # fmt: skip
NEVER_SENT = "You do not want it any more. It was never sent, so nobody has to be told."


def step_words(step: Step, enquiry: Enquiry) -> str:
    """What a step means for this enquiry."""
    return NEVER_SENT if step.state == "withdrawn" and enquiry.state == "planned" else step.words


def step_fields(step: Step) -> tuple[Field, ...]:
    """All that is typed with a step but the activities."""
    return (*step.fields, *(WHAT if step.state == "granted" else ()), NOTE)


def known_group(state: str) -> Group:
    """What is known by now of an enquiry in this state."""
    return Group("What came back", tuple(KNOWN[name] for name in known_fields(state)))


def form_names(state: str) -> tuple[str, ...]:
    """The names of all fields but the activities."""
    return (*(field.name for field in (*WHOM.fields, *WHAT, NOTES)), *known_fields(state))
