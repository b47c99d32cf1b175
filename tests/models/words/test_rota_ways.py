from __future__ import annotations

from models.words.rota import way_words
from models.workshop.rota import Post
from models.workshop.ways import ways_to_plan

POSTS = (Post(key=1), Post(key=2), Post(key=3, holders=3))
NAMES = {1: "A", 2: "B", 3: "C"}


def test_every_way_out_of_short_hands_says_what_it_takes():
    merged, shared, *_, lent = (way_words(way, NAMES) for way in ways_to_plan(range(9), POSTS))
    assert merged == "Merge into 1 group, nobody lent: 27 turns from start to end."
    assert shared == "Groups help each other out, nobody lent: 14 turns from start to end."
    assert lent == (
        "Lend 2 hands at a time (C in round 1 (2), C in round 2 (2), C in round 3 (2)): 9 turns from start to end."
    )


def test_what_lacks_even_then_is_said():
    merged, *_ = (way_words(way, NAMES) for way in ways_to_plan(range(3), POSTS))
    assert merged.startswith("Merge, and lend 2 hands at a time (C in round 3 (2)): 9 turns")
