"""Areas and rules as pages tell them: the answer first, doubts said, nothing worded as permission."""

from __future__ import annotations

from dataclasses import fields
from datetime import UTC, date, datetime, time
from typing import Any

import pytest

from models.planning.rules import areas as planning
from models.planning.rules.rule_rows import FOUND_WORDS, contradicted, rule_rows
from models.rules.activities import ACTIVITIES
from models.rules.rule import FOUND, Rule
from models.store.engine import Store
from models.store.spots import add_spot
from models.store.versions import Clash, Missing
from models.street.spot import SpotDraft
from models.words.never import forbidden_in
from tests.models.planning.rules.town import TODAY, area, rule, square

NOW = datetime(2026, 10, 17, 12, tzinfo=UTC)


def kept(number: int = 1, **changes: Any) -> Rule:
    draft = rule(**changes)
    return Rule(id=number, version=1, **{field.name: getattr(draft, field.name) for field in fields(draft)})


def with_spot(store: Store, name: str = "Foundry Lane") -> int:
    place = {"latitude_deg": 52.525, "longitude_deg": 5.225, "zone": "Europe/Amsterdam"}
    with store.writing() as s:
        return add_spot(s, SpotDraft(name=name, **place)).id


def test_an_empty_town_says_that_nothing_is_checked(plans: Store) -> None:
    page = planning.areas_page(plans, TODAY)
    assert page.answer == "Nothing is recorded yet: every spot is unchecked."
    assert (page.areas, page.on_spots, page.total, page.pages) == ((), (), 0, 1)
    assert planning.around(plans) is None


def test_the_answer_counts_areas_rules_and_doubts(plans: Store) -> None:
    first = planning.add_area(plans, area())
    planning.add_area(plans, area(name="Ash Lane", shape=square(52.6)))
    spot_id = with_spot(plans)
    planning.add_rule(plans, rule(area_id=first.id, check_again=date(2026, 10, 16)))
    planning.add_rule(plans, rule(area_id=first.id, activity="tripod", spoken=True))
    for found in ("not_permitted", "permitted"):
        planning.add_rule(plans, rule(area_id=first.id, activity="group", found=found))
    planning.add_rule(plans, rule(spot_id=spot_id))
    page = planning.areas_page(plans, TODAY)
    assert page.answer == (
        "2 areas hold 4 rules; 1 spot has a rule of its own. "
        "Of these records 1 is too old, 2 contradict each other, 1 was only told on the spot."
    )
    assert [(row.name, row.rules, row.warnings) for row in page.areas] == [
        ("Ash Lane", 0, ""),
        ("Corn Square", 4, "1 is too old, 2 contradict each other, 1 was only told on the spot"),
    ]
    assert [(spot.name, len(spot.rules)) for spot in page.on_spots] == [("Foundry Lane", 1)]
    assert planning.around(plans) == pytest.approx((52.52, 5.22, 52.61, 5.23))


def test_a_record_is_old_the_day_after_it_is_to_be_checked_again() -> None:
    rules = [kept(1, check_again=TODAY), kept(2, check_again=date(2026, 10, 16)), kept(3)]
    assert [row.too_old for row in rule_rows(rules, TODAY)] == [False, True, False]


def test_many_areas_come_in_pages(plans: Store) -> None:
    for number in range(planning.PAGE_SIZE + 1):
        planning.add_area(plans, area(name=f"Area {number:03}"))
    first, last, beyond = (planning.areas_page(plans, TODAY, page=page) for page in (0, 2, 99))
    assert (first.page, first.pages, len(first.areas)) == (1, 2, planning.PAGE_SIZE)
    assert [row.name for row in last.areas] == ["Area 050"]
    assert beyond == last


def test_spots_with_rules_of_their_own_are_counted_where_they_are_not_shown(
    plans: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(planning, "MOST_SPOTS", 2)
    for name in ("A", "B", "C"):
        planning.add_rule(plans, rule(spot_id=with_spot(plans, name)))
    page = planning.areas_page(plans, TODAY)
    assert (len(page.on_spots), page.not_shown) == (2, 1)
    assert page.answer == "No area is recorded yet; 3 spots have 3 rules of their own. None of them is too old."


def test_one_area(plans: Store) -> None:
    number = planning.add_area(plans, area(contact="counter")).id
    bare = planning.area_page(plans, number, TODAY)
    assert bare.answer == "Nothing is recorded for Corn Square yet: ask Council."
    planning.add_rule(plans, rule(area_id=number, activity="filming"))
    planning.add_rule(plans, rule(area_id=number, lead_days=10, from_time=time(8), to_time=time(18)))
    page = planning.area_page(plans, number, TODAY)
    assert page.answer == "Council controls Corn Square. 2 rules are recorded."
    assert (page.kind_words, page.outline) == ("public street", "4 corners, about 760,000 m²")
    first, last = page.rules
    assert (first.activity, first.ask, first.holds) == (
        "stand_ground", "10 clear working days before", "08:00 to 18:00",
    )  # fmt: skip
    assert last.activity == "filming"
    assert first.source == "By-law (read on Tuesday 1 September 2026)"


@pytest.mark.parametrize(
    ("one", "other", "at_odds"),
    [
        ({"found": "needed"}, {"found": "not_permitted"}, True),
        ({"found": "needed"}, {"found": "needed"}, False),
        ({"found": "needed"}, {"found": "unknown"}, False),
        ({"found": "needed"}, {"found": "none_found"}, False),
        ({"found": "needed"}, {"found": "permitted", "activity": "tripod"}, False),
        ({"found": "needed"}, {"found": "permitted", "area_id": 2}, False),
        ({"found": "needed"}, {"found": "permitted", "spot_id": 1}, False),
        ({"found": "needed"}, {"found": "permitted", "over": 3}, False),
        ({"found": "needed"}, {"found": "permitted", "weekdays": (5,)}, False),
        ({"found": "needed", "weekdays": (5,)}, {"found": "permitted", "weekdays": (5,)}, True),
    ],
)
def test_records_contradict_each_other_about_the_same_thing_at_the_same_times(
    one: dict[str, Any], other: dict[str, Any], at_odds: bool
) -> None:
    found = contradicted([kept(1, **one), kept(2, **other)])
    assert found == (frozenset({1, 2}) if at_odds else frozenset())


def test_warnings_say_what_to_do() -> None:
    old = kept(1, check_again=date(2025, 3, 11), spoken=True)
    first, second = rule_rows([old, kept(2, found="permitted", over=None)], TODAY)
    assert first.warnings == (
        "Another record here says otherwise: ask which one holds.",
        "Too old since Tuesday 11 March 2025: check it again.",
        "Somebody told it on the spot; nothing is in writing.",
    )
    assert second.warnings == first.warnings[:1]


@pytest.mark.parametrize("found", FOUND)
@pytest.mark.parametrize("activity", ACTIVITIES)
def test_no_record_is_worded_as_permission(found: str, activity: str) -> None:
    (row,) = rule_rows([kept(activity=activity, found=found, lead_days=3, spoken=True, conditions="Weights")], TODAY)
    said = [getattr(row, field.name) for field in fields(row) if field.name not in ("activity", "found")]
    assert forbidden_in(f"{FOUND_WORDS[found]}. {row.activity_words}. {'. '.join(map(str, said))}") == []


def test_keeping_changing_deleting_and_bringing_back(plans: Store) -> None:
    kept_area = planning.add_area(plans, area())
    kept_rule = planning.add_rule(plans, rule(area_id=kept_area.id))
    changed = planning.change_area(plans, kept_area.id, kept_area.version, area(name="Barley Square"))
    with pytest.raises(Clash):
        planning.change_area(plans, kept_area.id, kept_area.version, area(name="Oat Square"))
    planning.delete_area(plans, kept_area.id, changed.version, now=NOW)
    with pytest.raises(Missing):
        planning.get_area(plans, kept_area.id)
    with pytest.raises(Missing):
        planning.get_rule(plans, kept_rule.id)
    assert planning.restore_area(plans, kept_area.id).name == "Barley Square"
    assert planning.get_rule(plans, kept_rule.id) == kept_rule
    planning.delete_rule(plans, kept_rule.id, kept_rule.version, now=NOW)
    assert planning.area_page(plans, kept_area.id, TODAY).rules == ()
    assert planning.restore_rule(plans, kept_rule.id).activity == "stand_ground"


def test_what_a_rule_hangs_on_has_a_name_even_when_deleted(plans: Store) -> None:
    kept_area = planning.add_area(plans, area())
    assert planning.place_of(plans, area_id=kept_area.id, spot_id=None) == ("Corn Square", True)
    assert planning.place_of(plans, area_id=None, spot_id=with_spot(plans)) == ("Foundry Lane", True)
    planning.delete_area(plans, kept_area.id, kept_area.version, now=NOW)
    assert planning.place_of(plans, area_id=kept_area.id, spot_id=None) == ("Corn Square", False)
    for area_id, spot_id in ((99, None), (None, 99), (None, None)):
        with pytest.raises(Missing):
            planning.place_of(plans, area_id=area_id, spot_id=spot_id)


def test_a_map_looks_at_the_town_and_not_at_an_area_far_away(plans: Store) -> None:
    with_spot(plans)
    planning.add_area(plans, area())
    planning.add_area(plans, area(name="Swapped", shape=square(5.22, 52.52)))
    assert planning.around(plans) == pytest.approx((52.52, 5.22, 52.53, 5.23))


def test_a_map_without_areas_looks_at_the_spots(plans: Store) -> None:
    with_spot(plans)
    assert planning.around(plans) == (52.525, 5.225, 52.525, 5.225)
