"""The what-if: read from an address, said back with its words, and said again by its own address."""

from __future__ import annotations

from dataclasses import fields

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.rules.what_if import (
    COUNTED,
    FOOTPRINT,
    TICKED,
    doing_texts,
    doing_words,
    read_doing,
    read_footprint,
    read_what_if,
    span_words,
)
from models.problems import InputProblem
from models.rules.activities import ACTIVITIES
from models.rules.footprint import Doing, Footprint
from models.store.spots import delete_spot
from models.words.never import forbidden_in
from tests.models.planning.grounds import HOSTILE, ZONE, at, stand

MOMENT = at("2026-10-17T15:00")
WHOLE = {
    "group": "12", "models": "2", "teaching": "no", "stand_ground": "three stands", "stand_held": "none", "tripod": "1",
    "flash_held": "2 flashes", "obstruction": "yes", "lasts": "19:00", "cable": "yes", "vehicle": "yes", "signs": "yes",
    "filming": "yes", "width": "6 ft", "meet": "52.5288, 5.2275", "fallback": "Quay",
}  # fmt: skip


@pytest.fixture
def here(plans):
    stand(plans, "Quay", east_m=120.0)
    return stand(plans, "Lane")


def test_the_first_answer_needs_no_typing(plans, here):
    what_if = read_what_if(plans, {}, here, MOMENT)
    assert what_if.sentence.text == (
        "9 people, of them 1 model; paid teaching, no stands on the ground and 1 stand held, no tripods, 1 flash in "
        "the hand, footway left free; Saturday 17 October 2026, 17:00 to 18:30 CEST, setting up to packed up."
    )
    assert what_if.more.text == (
        "No cable or generator, no vehicle, no signs, no filming; width left for walkers not measured; walking there "
        "from nowhere noted; if it fails, to no other spot."
    )
    assert what_if.footprint.doing == Doing()
    assert what_if.address == {}
    assert forbidden_in(what_if.sentence.text + what_if.more.text) == []


def test_everything_can_be_said_in_the_address(plans, here):
    what_if = read_what_if(plans, WHOLE, here, MOMENT)
    assert what_if.footprint.doing == Doing(
        group=12, models=2, teaching=False, stand_ground=3, stand_held=0, tripod=1, flash_held=2, obstruction=True,
        cable=True, vehicle=True, signs=True, filming=True,
    )  # fmt: skip
    assert f"{what_if.footprint.ends:%H:%M}" == "19:00"
    assert what_if.footprint.width_left_m == pytest.approx(1.8288)
    assert what_if.meeting_point == (52.5288, 5.2275)
    assert what_if.fallback.name == "Quay"
    assert set(what_if.address) == set(FOOTPRINT)


def test_its_address_says_the_same_again(plans, here):
    once = read_what_if(plans, WHOLE | {"width": "1.8"}, here, MOMENT)
    assert read_what_if(plans, once.address, here, MOMENT) == once
    shown = {word.parameter: word.shown for word in (*once.sentence.words, *once.more.words)}
    yes_or_no = {name: once.address.get(name, "") for name in TICKED}
    assert read_what_if(plans, shown | yes_or_no, here, MOMENT) == once


@given(
    counts=st.fixed_dictionaries({name: st.integers(0, 9) for name in COUNTED}),
    ticks=st.fixed_dictionaries({name: st.booleans() for name in TICKED}),
    lasts=st.integers(1, 288).map(lambda k: 5 * k),
)
def test_any_footprint_is_said_again_by_its_texts(counts, ticks, lasts):
    counts |= {"group": counts["group"] + counts["models"] + 1}
    said = {name: str(count) for name, count in counts.items()} | {k: "yes" if v else "no" for k, v in ticks.items()}
    footprint = read_footprint(said | {"lasts": f"{lasts} min"}, MOMENT)
    assert footprint.doing == Doing(**counts, **ticks)
    assert read_doing(doing_texts(footprint.doing)) == footprint.doing
    assert (footprint.ends.timestamp() - footprint.starts.timestamp()) == lasts * 60


def test_there_is_a_word_for_every_activity():
    assert {*COUNTED, *TICKED} == set(ACTIVITIES) == {field.name for field in fields(Doing)}
    for name, text in doing_texts(Doing()).items():
        assert text.isdecimal() == (name in COUNTED)


@pytest.mark.parametrize(
    ("name", "text"),
    [
        *((name, "some") for name in COUNTED), *((name, "100") for name in COUNTED if name not in ("group", "models")),
        ("group", "0"), ("group", "501"), ("models", "10"),
        *((name, "perhaps") for name in TICKED),
        ("lasts", "for ever"), ("width", "narrow"), ("meet", "the pub"), ("fallback", "the pub"), ("fallback", "Lane"),
    ],
)  # fmt: skip
def test_a_word_that_cannot_be_read_is_named(plans, here, name, text):
    with pytest.raises(InputProblem) as refused:
        read_what_if(plans, {name: text}, here, MOMENT)
    assert refused.value.field == name


def test_a_fallback_that_is_gone_is_named(plans, here):
    gone = stand(plans, "Gone")
    with plans.writing() as s:
        delete_spot(s, gone.id, gone.version)
    with pytest.raises(InputProblem, match="there is no spot"):
        read_what_if(plans, {"fallback": str(gone.id)}, here, MOMENT)


def test_spots_near_by_are_offered_nearest_first(plans, here):
    stand(plans, HOSTILE, east_m=40.0)
    words = {word.parameter: word for word in read_what_if(plans, {}, here, MOMENT).more.words}
    offered = [value for value, _ in words["fallback"].options]
    assert offered == ["no other spot", HOSTILE, "Quay"]


@pytest.mark.parametrize(
    ("start", "end", "said"),
    [
        ("2026-10-17T15:00", "2026-10-17T16:30", "Saturday 17 October 2026, 17:00 to 18:30 CEST"),
        ("2026-10-24T23:30", "2026-10-25T01:30", "Sunday 25 October 2026, 01:30 CEST to 02:30 CET"),
        ("2026-05-01T21:00", "2026-05-01T22:30", "Friday 1 May 2026, 23:00 to 00:30 CEST on Saturday 2 May 2026"),
    ],
)  # fmt: skip
def test_a_span_names_its_zones_and_its_days(start, end, said):
    assert span_words(Footprint(starts=at(start).local, ends=at(end).local), ZONE) == said


def test_amounts_in_words():
    doing = Doing(group=1, models=1, stand_ground=3, tripod=1, flash_held=0, teaching=False, signs=True)
    assert doing_words(doing) == (
        "1 person", "1 model", "3 stands on the ground", "1 hand-held stand", "1 tripod", "signs",
    )  # fmt: skip
