"""Keeping spots: found again, changed by one at a time, deleted with a way back, whatever number is asked for."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from models.planning.keeping import add_spot, change_spot, delete_spot, find_spot, get_spot, restore_spot
from models.problems import InputProblem
from models.store.spots import Clash, Missing
from models.street.spot import SpotDraft
from tests.models.planning.grounds import HOSTILE

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
LANE = SpotDraft(name="Foundry Lane", latitude_deg=52.53, longitude_deg=5.23, zone="Europe/Amsterdam", hazards="vans")
HUGE = (2**31, 2**63, 10**30, 10**200)


def test_what_is_kept_comes_back_as_it_was(plans):
    kept = add_spot(plans, LANE)
    assert kept.draft == LANE
    assert get_spot(plans, kept.id) == kept
    assert find_spot(plans, "  foundry LANE ") == kept
    assert find_spot(plans, str(kept.id)) == kept
    assert find_spot(plans, "foundry") == kept


def test_a_part_of_two_names_is_a_question(plans):
    add_spot(plans, LANE)
    add_spot(plans, replace(LANE, name="Foundry Yard"))
    with pytest.raises(InputProblem, match="could be any of: 1 Foundry Lane, 2 Foundry Yard"):
        find_spot(plans, "foundry")
    with pytest.raises(Missing):
        find_spot(plans, "quay")


def test_the_second_of_two_changes_clashes_and_changes_nothing(plans):
    seen = add_spot(plans, LANE)
    mine = change_spot(plans, seen.id, seen.version, replace(LANE, hazards="vans, a low wall"))
    with pytest.raises(Clash) as clash:
        change_spot(plans, seen.id, seen.version, replace(LANE, hazards="none"))
    assert clash.value.current == mine == get_spot(plans, seen.id)
    with pytest.raises(Clash):
        delete_spot(plans, seen.id, seen.version, now=NOW)
    assert get_spot(plans, seen.id) == mine


def test_a_deleted_spot_comes_back_whole(plans):
    kept = add_spot(plans, LANE)
    gone = delete_spot(plans, kept.id, kept.version, now=NOW)
    assert gone.deleted_at == NOW
    with pytest.raises(Missing):
        get_spot(plans, kept.id)
    with pytest.raises(Clash) as clash:
        change_spot(plans, kept.id, kept.version, LANE)
    assert clash.value.current.deleted_at == NOW
    back = restore_spot(plans, kept.id)
    assert (back.id, back.draft, back.deleted_at) == (kept.id, LANE, None)
    assert restore_spot(plans, kept.id) == back


def test_thirty_days_on_it_is_gone_for_good(plans):
    old, new = add_spot(plans, LANE), add_spot(plans, replace(LANE, name="Quay"))
    delete_spot(plans, old.id, old.version, now=NOW)
    delete_spot(plans, new.id, new.version, now=NOW + timedelta(days=31))
    with pytest.raises(Missing):
        restore_spot(plans, old.id)
    assert restore_spot(plans, new.id).name == "Quay"
    assert add_spot(plans, LANE).id > new.id


@pytest.mark.parametrize("number", [0, *HUGE])
def test_a_number_that_no_spot_has_is_missing_however_large(plans, number):
    add_spot(plans, LANE)
    for ask in (
        lambda: get_spot(plans, number),
        lambda: find_spot(plans, str(number)),
        lambda: change_spot(plans, number, 1, LANE),
        lambda: delete_spot(plans, number, 1, now=NOW),
        lambda: restore_spot(plans, number),
    ):
        with pytest.raises(Missing):
            ask()


def test_a_text_of_thousands_of_digits_finds_nothing(plans):
    with pytest.raises(Missing):
        find_spot(plans, "9" * 5000)


@pytest.mark.parametrize("version", HUGE)
def test_a_version_that_never_was_clashes(plans, version):
    kept = add_spot(plans, LANE)
    with pytest.raises(Clash):
        change_spot(plans, kept.id, version, LANE)
    with pytest.raises(Clash):
        delete_spot(plans, kept.id, version, now=NOW)
    assert get_spot(plans, kept.id) == kept


def test_a_hostile_name_is_a_name(plans):
    kept = add_spot(plans, replace(LANE, name=HOSTILE))
    assert kept.name == HOSTILE
    assert find_spot(plans, HOSTILE) == kept
    with pytest.raises(Missing):
        find_spot(plans, "100%")
