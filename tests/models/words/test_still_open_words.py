"""What still stands open, in words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from models.rules.still_open import OpenItem, papers_open, still_open
from models.words.never import forbidden_in
from models.words.still_open import IF_OPEN, LACKS, if_open_words, open_words, owed_words
from tests.models.rules.making import DAY, area, enquiry, footprint, paper, rule
from tests.models.rules.test_findings import BY, HERE, look

VISIT = footprint(teaching=True, models=1, stand_ground=2)
GUARD = OpenItem(kind="guard", owed_by="organiser", names=("Old town", "Town council"))


def opened(rules=(), enquiries=(), *, has_fallback=True, shared=(), passed=()) -> dict[str, OpenItem]:
    """By activity; other items by kind."""
    found = look(rules, enquiries, visit=VISIT, areas=HERE, passed=passed)
    items = still_open(found, [paper()], VISIT, has_fallback=has_fallback, shared=shared)
    return {item.activity or item.kind: item for item in items}


def lacking(**noted) -> OpenItem:
    return papers_open([paper(**noted)], VISIT)[0]


def test_what_stands_open_is_named_with_its_place():
    items = opened([rule(lead_days=10)])
    assert open_words(items["stand_ground"]) == "2 stands on the ground, Area 1: permission needed: ask."
    assert open_words(items["teaching"]) == "Paid teaching, Area 1: not checked: ask."
    assert "both places fall to Old town and Town council" in open_words(GUARD)


@pytest.mark.parametrize(
    ("noted", "words"),
    [
        ({"valid_to": BY}, "it ends on Friday 3 July 2026, before you have packed up"),
        ({"valid_to": None}, "nobody noted when it ends"),
        ({"covers_teaching": False, "covers_models": None}, "it does not cover teaching and nobody has looked whether"),
        ({"valid_from": DAY.replace(day=20)}, "it begins on Monday 20 July 2026"),
    ],
)
def test_what_a_paper_lacks(noted, words):
    assert words in open_words(lacking(**noted))
    assert open_words(lacking(**noted)).startswith("Public liability (insurance): ")


def test_no_insurance():
    (item,) = papers_open([], VISIT)
    assert open_words(item) == "Insurance: no insurance is noted."


def test_who_owes_it():
    waiting = opened([rule(lead_days=10)], [enquiry("asked", activities=("stand_ground",), to_whom="Town council")])
    assert owed_words(waiting["stand_ground"]) == "Town council"
    assert owed_words(waiting["teaching"]) == "you"
    assert owed_words(lacking(covers_models=None)) == "your insurer"


def test_what_is_left_if_it_stays_open():
    items = opened([rule("group", over=8)])
    stand, group = (if_open_words(items[key], people=9, fallback="Foundry Lane") for key in ("stand_ground", "group"))
    assert stand == (
        "If it stays open: move to the fallback, Foundry Lane; or bring hand-held stands only, and ask about those; "
        "or leave out 2 stands on the ground."
    )
    assert group.endswith("or come with fewer people than 9, and ask about that number.")
    alone = opened(has_fallback=False)
    assert if_open_words(alone["teaching"], people=9) == "If it stays open: do not run it here."
    assert "find a fallback elsewhere" in if_open_words(GUARD, people=9)
    walked = opened(passed=(area(2, name="Station"),))["stand_ground"]
    walked = replace(walked, if_open=("go_round",), finding=replace(walked.finding, area=area(2, name="Station")))
    assert if_open_words(walked, people=9) == "If it stays open: walk another way, round Station."


def test_every_way_out_and_every_lack_has_honest_words():
    items = [*opened([rule("group", over=8)]).values(), *opened(has_fallback=False).values()]
    items += [*opened(passed=(area(2),)).values(), *papers_open([], VISIT), GUARD]
    items += [lacking(valid_to=day, covers_teaching=known) for day in (None, BY) for known in (None, False)]
    items += [lacking(valid_from=DAY.replace(day=20), covers_models=known) for known in (None, False)]
    ways = [replace(items[0], if_open=(way,)) for way in IF_OPEN]
    assert {reason for item in items for reason in item.reasons} == set(LACKS)
    for item in items + ways:
        for text in (open_words(item), owed_words(item), if_open_words(item, people=9, fallback="Foundry Lane")):
            assert forbidden_in(text) == []
            assert not {"{", "}", "!"} & set(text)
            assert "None" not in text
