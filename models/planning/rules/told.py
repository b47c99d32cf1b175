"""Asked somebody on the spot: what they said, kept as a rule of that spot with the source filled in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from models.planning.rules.what_if import span_words
from models.problems import InputProblem
from models.rules.activities import ACTIVITIES
from models.rules.checking import checked_rule
from models.rules.footprint import Footprint
from models.rules.rule import Rule, RuleDraft
from models.store import rules as kept
from models.store.engine import Store
from models.store.spots import get_spot
from models.store.versions import Missing
from models.words.rules import amount_words

SOURCE = "Somebody there, asked on the spot"


@dataclass(frozen=True, slots=True)
class Said:
    """An answer somebody may give: its key in a form, what it is kept as, the words on its button."""

    key: str
    found: str
    words: str


ANSWERS = (
    Said("no", "not_permitted", "No"),
    Said("office", "needed", "Ask the office"),
    Said("nothing", "none_found", "Nothing against it"),
)


def keep_told(store: Store, spot_id: int, activity: str, key: str, asked_about: Footprint, *, today: date) -> Rule:
    """A rule of the spot, dated today, told on the spot. Raises InputProblem('activity' or 'said'), Missing."""
    answer = next((each for each in ANSWERS if each.key == key), None)
    if activity not in ACTIVITIES:
        raise InputProblem("activity", f"“{activity}” is nothing that is done there.")
    if answer is None:
        raise InputProblem("said", f"“{key}” is no answer. There is: {', '.join(each.key for each in ANSWERS)}.")
    with store.writing() as s:
        zone = get_spot(s, spot_id).zone
        amount = asked_about.doing.amounts().get(activity, 1)
        draft = RuleDraft(
            spot_id=spot_id,
            activity=activity,
            found=answer.found,
            source_title=SOURCE,
            source_section=f"about {amount_words(activity, amount)}, {span_words(asked_about, zone)}",
            spoken=True,
            checked_on=today,
        )
        return kept.add_rule(s, checked_rule(draft, today=today))


def told_words(rule: Rule) -> str:
    """What was kept, for the notice with its undo."""
    answer = next(each for each in ANSWERS if each.found == rule.found)
    return f"Kept as told on the spot: {ACTIVITIES[rule.activity].words}, “{answer.words.lower()}”."


def forget_told(store: Store, spot_id: int, rule_id: int, *, now: datetime) -> None:
    """Undo it, as long as nobody changed it since. Raises Clash, Missing."""
    with store.writing() as s:
        rule = kept.get_rule(s, rule_id)
        if rule.spot_id != spot_id or not rule.spoken:
            raise Missing(rule_id, "rule")
        kept.delete_rule(s, rule_id, 1, now=now)
