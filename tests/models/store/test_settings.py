from __future__ import annotations

from typing import Any

import pytest

from models.problems import InputProblem
from models.store.engine import Store
from models.store.settings import SETTINGS, all_settings, get_setting, put_setting


def test_until_set_the_default_holds(store: Store) -> None:
    with store.reading() as s:
        assert get_setting(s, "golden_limits") == [-4.0, 6.0]
        assert get_setting(s, "lighting_up_deg") == -3.0
        assert get_setting(s, "tiles") is None
        assert all_settings(s) == {name: setting.default for name, setting in SETTINGS.items()}


@pytest.mark.parametrize("name", SETTINGS)
def test_each_setting_is_described_and_accepts_its_own_default(store: Store, name: str) -> None:
    with store.writing() as s:
        put_setting(s, name, SETTINGS[name].default)
        assert get_setting(s, name) == SETTINGS[name].default
    assert SETTINGS[name].words


@pytest.mark.parametrize(
    ("name", "given", "kept"),
    [
        ("golden_limits", (-2, 8), [-2.0, 8.0]),
        ("storey_height_m", 3, 3.0),
        ("tiles", " some provider ", "some provider"),
        ("tiles", "", None),
        ("geocoder_contact", None, None),
        ("holidays", " nl ", "NL"),
        ("holidays", "de-be", "DE-BE"),
        ("holidays", "", ""),
        ("organiser", "  Ana Ruiz ", "Ana Ruiz"),
        ("organiser", None, ""),
        ("organiser_contact", " ana@example.org ", "ana@example.org"),
        ("language", "en", "en"),
    ],
)
def test_a_value_is_kept_tidy_and_the_last_one_counts(store: Store, name: str, given: Any, kept: Any) -> None:
    with store.writing() as s:
        put_setting(s, name, SETTINGS[name].default)
        put_setting(s, name, given)
    with store.reading() as s:
        assert get_setting(s, name) == kept
        assert all_settings(s)[name] == kept


@pytest.mark.parametrize(
    ("name", "given"),
    [
        ("golden_limits", [6, -4]),
        ("golden_limits", [-4]),
        ("golden_limits", "-4..6"),
        ("blue_limits", [-40, -4]),
        ("lighting_up_deg", True),
        ("lighting_up_deg", float("nan")),
        ("storey_height_m", 30),
        ("turbidity", "3"),
        ("tiles", 7),
        ("geocoder_contact", "x" * 201),
        ("geocoder_contact", "\x00"),
        ("holidays", "Havenmark"),
        ("holidays", "ZZ"),
        ("holidays", "NL-"),
        ("holidays", 31),
        ("organiser", ["Ana"]),
        ("organiser", "x" * 201),
        ("language", ""),
        ("language", "xx"),
        ("no_such_setting", 1),
    ],
)
def test_a_value_that_does_not_fit_is_refused_by_the_name_of_its_setting(store: Store, name: str, given: Any) -> None:
    with store.writing() as s, pytest.raises(InputProblem) as problem:
        put_setting(s, name, given)
    assert problem.value.field == name


def test_asking_for_an_unknown_setting_names_those_there_are(store: Store) -> None:
    with store.reading() as s, pytest.raises(InputProblem, match="storey_height_m"):
        get_setting(s, "no_such_setting")
