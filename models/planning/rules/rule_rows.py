"""A recorded rule in words: what it speaks of, what was found, when it holds, where that is written, how old it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from models.clock import day_words
from models.planning.rules.rule_typed import lead_words
from models.rules.activities import ACTIVITIES
from models.rules.rule import Rule
from models.words.rules import limits_words, source_words, width_asked_words

FOUND_WORDS: dict[str, str] = {
    "needed": "permission needed",
    "not_permitted": "recorded as not permitted",
    "conditions": "recorded as permitted with conditions",
    "permitted": "recorded as permitted, no conditions noted",
    "none_found": "no rule found, so not checked",
    "unknown": "unknown, so not checked",
}
"""By key of FOUND: what a record says, never what may be done."""
NOTHING_SAID = ("unknown", "none_found")


@dataclass(frozen=True, slots=True)
class RuleRow:
    """One rule as a page tells it; empty text where nothing is recorded.

    holds: threshold, days and hours. width: what is to be left for walkers. warnings: contradicted, too old, told on
    the spot.
    """

    id: int
    activity: str
    activity_words: str
    found: str
    found_words: str
    ask: str
    holds: str
    conditions: str
    width: str
    fee: str
    insurance: str
    source: str
    source_link: str
    spoken: bool
    too_old: bool
    warnings: tuple[str, ...]


def rule_rows(rules: Sequence[Rule], today: date) -> tuple[RuleRow, ...]:
    """In the order of ACTIVITIES."""
    order = tuple(ACTIVITIES)
    at_odds = contradicted(rules)
    by_activity = sorted(rules, key=lambda rule: (order.index(rule.activity), rule.id))
    return tuple(_row(rule, today, at_odds=rule.id in at_odds) for rule in by_activity)


def is_old(rule: Rule, today: date) -> bool:
    return rule.check_again is not None and rule.check_again < today


def contradicted(rules: Sequence[Rule]) -> frozenset[int]:
    """Rules of which another of the same place says something else about the same thing at the same times."""
    said: dict[tuple[object, ...], list[Rule]] = {}
    for rule in rules:
        if rule.found not in NOTHING_SAID:
            said.setdefault((rule.area_id, rule.spot_id, rule.activity, *_limits(rule)), []).append(rule)
    at_odds = [alike for alike in said.values() if len({rule.found for rule in alike}) > 1]
    return frozenset(rule.id for alike in at_odds for rule in alike)


def _row(rule: Rule, today: date, *, at_odds: bool) -> RuleRow:
    return RuleRow(
        id=rule.id,
        activity=rule.activity,
        activity_words=ACTIVITIES[rule.activity].words,
        found=rule.found,
        found_words=FOUND_WORDS[rule.found],
        ask=lead_words(rule.lead_days, rule.lead_working),
        holds=limits_words(rule),
        conditions=rule.conditions,
        width=width_asked_words(rule),
        fee=rule.fee,
        insurance=rule.insurance,
        source=source_words(rule),
        source_link=rule.source_link,
        spoken=rule.spoken,
        too_old=is_old(rule, today),
        warnings=_warnings(rule, today, at_odds=at_odds),
    )


def _limits(rule: Rule) -> tuple[object, ...]:
    return rule.over, rule.width_min_m, rule.from_time, rule.to_time, rule.weekdays, rule.first_day, rule.last_day


def _warnings(rule: Rule, today: date, *, at_odds: bool) -> tuple[str, ...]:
    said = []
    if at_odds:
        said.append("Another record here says otherwise: ask which one holds.")
    if rule.check_again and is_old(rule, today):
        said.append(f"Too old since {day_words(rule.check_again)}: check it again.")
    if rule.spoken:
        said.append("Somebody told it on the spot; nothing is in writing.")
    return tuple(said)
