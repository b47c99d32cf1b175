"""What still stands open before a workshop, in words: what it is, who owes it, what is left if it stays so."""

from __future__ import annotations

from models.clock import day_words
from models.rules.answers import Finding
from models.rules.papers import KINDS, Paper
from models.rules.still_open import OpenItem
from models.words.rules import ANSWER_WORDS, amount_words, place_words
from models.words.said import listed

OWED: dict[str, str] = {"organiser": "you", "insurer": "your insurer"}

LACKS: dict[str, str] = {
    "no_insurance": "no insurance is noted",
    "lapses": "it ends on {ends}, before you have packed up",
    "no_end": "nobody noted when it ends",
    "begins_later": "it begins on {begins}, after the workshop",
    "not_teaching": "it does not cover teaching",
    "teaching_not_known": "nobody has looked whether it covers teaching",
    "not_models": "it does not cover hired models",
    "models_not_known": "nobody has looked whether it covers hired models",
}

IF_OPEN: dict[str, str] = {
    "go_round": "walk another way, round {place}",
    "fallback": "move to the fallback{fallback}",
    "hand_held": "bring hand-held stands only, and ask about those",
    "smaller_group": "come with fewer people than {people}, and ask about that number",
    "leave_out": "{without}",
    "not_run": "do not run it here",
}
WITHOUT: dict[str, str] = {"obstruction": "keep the footway free", "models": "do without models"}
"""What is done in place of an activity that is left out; of others that it is done without."""


def open_words(item: OpenItem) -> str:
    """What stands open: 'paid teaching, Old town streets: not checked: ask'."""
    if item.kind == "person":
        return item.said
    if item.kind == "guard":
        return f"Same guard, no fallback: both places fall to {listed(item.names)}."
    if item.kind == "paper":
        return f"{_title(item.paper)}: {lacks_words(item)}."
    finding = item.finding
    if finding is None or item.answer is None:
        raise ValueError("an open rule without its finding")
    what = amount_words(finding.activity, finding.amount)
    return f"{what[0].upper()}{what[1:]}, {place_words(finding)}: {ANSWER_WORDS[item.answer]}."


def lacks_words(item: OpenItem) -> str:
    """What is wrong with a paper: 'it does not cover teaching and nobody noted when it ends'."""
    return listed([_lacks(reason, item.paper) for reason in item.reasons])


def owed_words(item: OpenItem) -> str:
    """By whom: 'you', 'Town council, highways', 'your insurer'."""
    finding = item.finding
    if item.owed_by == "authority" and finding and finding.enquiry:
        return finding.enquiry.to_whom
    return OWED.get(item.owed_by, "whoever controls it")


def if_open_words(item: OpenItem, *, people: int, fallback: str = "") -> str:
    """What is left if it stays open. people: everyone there as planned. fallback: the name of its spot."""
    finding = item.finding
    if item.kind == "person":
        return f"If it stays open: {item.if_said}."
    if item.kind == "guard":
        return "If it stays open: find a fallback elsewhere, under someone else."
    ways = [
        IF_OPEN[key].format(
            place=place_words(finding) if finding else "it",
            fallback=f", {fallback}" if fallback else "",
            people=people,
            without=_without(finding),
        )
        for key in item.if_open
    ]
    return f"If it stays open: {'; or '.join(ways)}." if ways else "If it stays open: do not count on it."


def _without(finding: Finding | None) -> str:
    if finding is None:
        return "do without it"
    return WITHOUT.get(finding.activity) or f"do without {amount_words(finding.activity, finding.amount)}"


def _title(paper: Paper | None) -> str:
    return f"{paper.title} ({KINDS[paper.kind]})" if paper else "Insurance"


def _lacks(reason: str, paper: Paper | None) -> str:
    ends, begins = (paper.valid_to, paper.valid_from) if paper else (None, None)
    return LACKS[reason].format(ends=day_words(ends) if ends else "", begins=day_words(begins) if begins else "")
