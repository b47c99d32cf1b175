"""Three readers, one set of facts: times, places and numbers are the same, and each is told what is theirs."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from datetime import date, timedelta

import pytest

from models.words.briefing import (
    ASKED,
    NOT_ASKED,
    PARAGRAPHS,
    TEXT_KEYS,
    brackets,
    brackets_in,
    filled,
    roles_words,
    sizes_words,
    title_of,
    usual,
)
from models.words.briefing_parts import standing_words, version_words
from models.words.briefing_spot import near_words, says_no_pavement, without_pavement
from models.words.briefing_voices import briefing_of
from models.words.hazards import HAZARDS
from models.words.never import forbidden_in
from models.workshop.briefing import READERS, Briefing, Facts
from models.workshop.briefing_json import facts_from_plain, facts_to_plain
from tests.models.words.briefings import BARE, BLOCKS, FACTS, block

ISSUED = date(2026, 10, 10)


def told(facts: Facts, reader: str, before: Facts | None = None) -> Briefing:
    return briefing_of(facts, reader, 2, ISSUED, before)


def section(briefing: Briefing, key: str):
    return next((each for each in briefing.sections if each.key == key), None)


def text_of(briefing: Briefing) -> str:
    lines = [briefing.title, briefing.answer, *briefing.changes]
    for each in briefing.sections:
        lines += [each.title, *each.paragraphs, *each.items]
        if each.table:
            lines += [" | ".join(row) for row in (each.table.head, *each.table.rows)]
    return "\n".join(lines)


@pytest.mark.parametrize("facts", [FACTS, BARE])
def test_facts_come_back_from_json_as_they_were(facts):
    assert facts_from_plain(json.loads(json.dumps(facts_to_plain(facts)))) == facts


def test_facts_of_an_earlier_or_a_later_shape_are_read():
    plain = facts_to_plain(FACTS)
    del plain["spares"], plain["facilities"]
    assert facts_from_plain(plain | {"since": "then"}) == replace(FACTS, spares="", facilities="")


def test_times_places_and_numbers_are_the_same_for_all_three():
    voices = [told(FACTS, reader) for reader in READERS]
    tables = [section(each, "when").table for each in voices]
    places = [section(each, "where") for each in voices]
    calls = [section(each, "call").items for each in voices]
    for same in (tables, places, calls):
        assert same[0] == same[1] == same[2]
    assert len(tables[0].rows) == len(BLOCKS)
    assert {(each.meeting, each.spot, each.starts, each.ends, each.zone) for each in voices} == {
        (FACTS.meeting, FACTS.spot, FACTS.starts, FACTS.ends, FACTS.zone)
    }
    clocks = [re.findall(r"\d\d:\d\d", each.answer) for each in voices]
    assert clocks[0] == clocks[1] == clocks[2] == ["16:28", "17:00", "18:25", "18:30"]
    for each in voices:
        for words in ("Ferry quay, 52.52880, 5.22750", "Foundry Lane, 52.53010, 5.23120", "0555 0100", "16:30 CEST"):
            assert words in text_of(each)


def test_packed_up_is_when_packing_ends_and_over_when_a_reader_is_released():
    longer = replace(FACTS, blocks=(*BLOCKS, block("walk back", "Walk back", 90, 12)))
    assert told(BARE, "model").answer.endswith("packed up by 18:30 CEST.")
    for facts in (FACTS, longer):
        assert told(facts, "model").answer.endswith("packed up by 18:25 CEST, over by 18:30 CEST.")
        assert told(facts, "attendee").answer.endswith("packed up by 18:25 CEST, over by 18:30 CEST.")
    assert told(longer, "helper").answer.endswith("packed up by 18:25 CEST, over by 18:42 CEST.")


def test_how_people_hear_of_the_fallback_is_said():
    early = replace(FACTS, decide_by=FACTS.starts - timedelta(hours=4))
    ask = "is decided by 13:00 CEST, before we meet: ask R. Vale, 0555 0100 from then on, or hear it at Ferry quay."
    assert ask in text_of(told(early, "model"))
    assert "13:00 CEST, before we meet: hear it at Ferry quay." in text_of(
        told(replace(early, contact="", organiser=""), "model")
    )
    assert "13:00 CEST, before we meet: how you hear of it is not said yet." in text_of(
        told(replace(early, contact="", organiser="", meeting=None), "model")
    )
    assert "is decided by 16:30 CEST and said to all who have met." in text_of(told(FACTS, "model"))


def test_a_reason_that_stations_share_is_said_once_and_what_stands_in_the_table_not_again():
    shared = replace(FACTS, stations=tuple(replace(each, reason="Too bright") for each in FACTS.stations))
    paragraphs = section(told(shared, "helper"), "gear").paragraphs
    assert paragraphs[:2] == (
        "On the face at 17:20 CEST, when round 1 begins: EV 10.4 at A (ISO 100).",
        "A and B. Too bright.",
    )


def test_who_talks_and_who_is_called_is_the_organiser_where_nobody_else_is():
    items = section(told(replace(FACTS, talks="", contact=""), "model"), "call").items
    assert {"Call when late, lost or ill: R. Vale", "Who talks if we are asked to stop: R. Vale"} <= set(items)


def test_what_is_shared_reads_the_same_in_every_voice():
    """Of paragraphs that two readers get: not a letter differs."""
    for key, paragraph in PARAGRAPHS.items():
        for reader in READERS:
            said = FACTS.paragraphs[key] in text_of(told(FACTS, reader))
            assert said == (reader in paragraph.readers), (key, reader)


@pytest.mark.parametrize(
    ("reader", "has", "has_not"),
    [
        ("attendee", ("bring", "wear", "gear", "turns", "conduct", "safety"), ("owed", "kit", "enquiries", "plan b")),
        ("model", ("happens", "breaks", "warmth", "owed", "bring"), ("gear", "kit", "enquiries", "batteries")),
        (
            "helper",
            ("duties", "kit", "batteries", "gear", "redials", "enquiries", "guard", "plan b", "papers"),
            ("owed", "bring"),
        ),
    ],
)
def test_each_reader_is_told_what_is_theirs(reader, has, has_not):
    keys = [each.key for each in told(FACTS, reader).sections]
    assert len(set(keys)) == len(keys)
    assert set(has) | {"when", "where", "call", "stopped", "pictures"} <= set(keys)
    assert not set(has_not) & set(keys)


def test_the_sketch_is_for_all_and_drawings_of_setups_for_helpers():
    assert all(section(told(FACTS, reader), "where").sketch for reader in READERS)
    assert section(told(FACTS, "helper"), "gear").drawings == (7,)
    assert section(told(FACTS, "attendee"), "gear").drawings == ()


@pytest.mark.parametrize("reader", READERS)
def test_what_is_not_known_is_said_and_never_blank(reader):
    briefing = told(BARE, reader)
    words = text_of(briefing)
    for part in ("Where we meet is not said yet", "rounds are not planned yet", "Organiser: not said yet", "18:30"):
        assert part in words
    for each in briefing.sections:
        assert each.title
        assert all(line.strip() for line in each.items)
    if reader == "helper":
        assert {"kit", "plan b", "papers", "enquiries", "batteries"} <= {each.key for each in briefing.sections}
        assert all(row[0] and row[2] for row in (each.table.rows if each.key == "when" else ()))


def test_an_emptied_paragraph_is_not_said():
    quiet = replace(FACTS, paragraphs=FACTS.paragraphs | {"touch": " ", "stopped": ""})
    for reader in READERS:
        words = text_of(told(quiet, reader))
        assert "Nobody touches a model as told" not in words
        assert section(told(quiet, reader), "stopped") is None


def test_times_after_the_clocks_went_back_carry_their_zone():
    """On 25 October 2026 the clocks of Amsterdam go back at 03:00 CEST."""
    by = timedelta(days=7, hours=8)
    night = tuple(replace(each, starts=each.starts + by, ends=each.ends + by) for each in BLOCKS)
    late = replace(FACTS, starts=FACTS.starts + by, ends=FACTS.ends + by, blocks=night)
    starts = [row[0] for row in section(told(late, "model"), "when").table.rows]
    assert starts[3:] == ["01:00", "01:15", "01:20", "01:45", "02:10", "02:15", "02:25"]
    later = replace(late, blocks=tuple(replace(each, starts=each.starts + timedelta(hours=1)) for each in night))
    assert section(told(later, "model"), "when").table.rows[-3][0] == "02:10 CET"


def test_called_off_and_moved_come_first_and_a_draft_says_so():
    assert standing_words(told(replace(FACTS, called_off=True), "model")).startswith("Called off: do not come.")
    later = replace(FACTS, starts=FACTS.starts + timedelta(minutes=20))
    assert standing_words(told(later, "model", FACTS)).startswith("Moved:")
    assert standing_words(told(FACTS, "model", FACTS)) == ""
    assert version_words(told(FACTS, "model")) == "Version 2, issued on Saturday 10 October 2026."
    assert version_words(briefing_of(FACTS, "model", 3, None, FACTS)) == "Version 3, not issued yet."
    assert "never issued" in version_words(briefing_of(FACTS, "model", 0, None, None))


def test_brackets_are_filled_in_once_and_unknown_ones_stay():
    known = {"organiser": "the organiser", "who talks": "[contact]", "contact": "0555"}
    said = filled("[Organiser] asks. [who talks] talks to [nobody], says [organiser].", known)
    assert said == "The organiser asks. [contact] talks to [nobody], says the organiser."
    assert brackets_in("[nobody] and [contact]") == ["nobody"]


@pytest.mark.parametrize(
    ("size", "hands", "words"),
    [
        (3, (), "one shoots, one holds the light, one watches the pavement"),
        (3, [(1, 1), (1, 1)], "one shoots, one holds the light, one watches the pavement"),
        (4, [(1, 1)], "one shoots, one holds the light, one watches the pavement, one is next up"),
        (5, [(1, 1)], "one shoots, one holds the light, one watches the pavement, one is next up, the others stand by"),
        (4, [(2, 1)], "one shoots, two hold the lights, one watches the pavement"),
        (
            3,
            [(2, 1)],
            "one shoots, two hold the lights, one watches the pavement, helpers or another group lend the hands that "
            "lack",
        ),
        (
            4,
            [(1, 1), (2, 1)],
            "one shoots, one or two hold the lights, as the station needs, one watches the pavement, one is next up "
            "where hands are left",
        ),
        (2, [(0, 0)], "one shoots, one is next up"),
        (1, [(0, 0)], "one shoots"),
    ],
)
def test_roles_go_by_the_group_and_by_the_hands_that_stations_need(size, hands, words):
    assert roles_words({size}, hands) == words


def test_groups_of_several_sizes_are_told_as_such():
    assert roles_words({3, 4}, [(1, 1)]).endswith("one watches the pavement, one is next up where hands are left")
    assert [sizes_words(each) for each in ({3}, {3, 4}, {2, 3, 5})] == ["3", "3 or 4", "2 to 5"]


@pytest.mark.parametrize(
    ("comforts", "noted", "words"),
    [
        ((), "", ""),
        ((), "Toilets in the hall", "Toilets in the hall"),
        ((), "None.", "nothing is noted at the spot itself. Look before the day what is near."),
        ((), "None. Nearest on Rope Street.", "nothing is noted at the spot itself. Nearest on Rope Street."),
        (
            ("toilets 90 m to the north", "coffee 120 m to the east"),
            "None, nearest on Rope Street.",
            "toilets 90 m to the north and coffee 120 m to the east. As a map has them; look before the day whether "
            "they are open. At the spot itself there is nothing. Nearest on Rope Street.",
        ),
        (
            ("coffee 120 m to the east",),
            "A bench",
            "coffee 120 m to the east. As a map has them; look before the day whether they are open. "
            "At the spot itself: A bench",
        ),
    ],
)
def test_what_is_near_never_says_none_alone(comforts, noted, words):
    assert near_words(comforts, noted) == words


@pytest.mark.parametrize(
    ("line", "none"),
    [
        ("Noted at this spot: No pavement, everybody stands in the roadway", True),
        ("A lane without a pavement", True),
        ("Moving vehicles beside the pavement: watch", False),
        ("No paved yard", False),
    ],
)
def test_a_spot_without_a_pavement_is_known_by_its_hazards(line, none):
    assert says_no_pavement(["Water's edge", line]) is none


def test_the_usual_line_about_vehicles_is_known_by_its_words():
    what, done, _ = HAZARDS["vehicles"]
    assert without_pavement(f"{what}: {done}") == (
        "Moving vehicles: The watcher calls vehicles. No flash towards drivers."
    )
    assert without_pavement("Water's edge") == "Water's edge"


def test_a_guard_is_told_of_an_enquiry_only_where_one_was_sent():
    planned = replace(FACTS, enquiries=(("Harbour office", "", "planned, not asked yet", ""),), carry=())
    for facts, said in ((FACTS, ASKED), (planned, NOT_ASKED), (BARE, NOT_ASKED)):
        words = filled(usual("guard"), brackets(facts))
        assert (said in words, ("show the papers" in words)) == (True, said == ASKED)
        assert forbidden_in(words) == []


def test_usual_words_never_word_a_rule_as_permission_and_have_no_loose_bracket():
    for key in TEXT_KEYS:
        assert forbidden_in(usual(key)) == [], key
        assert brackets_in(usual(key)) == [], key
        assert title_of(key)
    for facts in (FACTS, BARE):
        for reader in READERS:
            assert forbidden_in(text_of(told(facts, reader, replace(FACTS, called_off=True)))) == []
