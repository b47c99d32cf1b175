"""Settings as text: read back the same, refused whole."""

from __future__ import annotations

import pytest

from models.planning.settings import change_settings, read_setting, settings_form
from models.problems import InputProblems


def test_the_form_read_back_changes_nothing(plans):
    before = settings_form(plans)
    change_settings(plans, before)
    assert settings_form(plans) == before


@pytest.mark.parametrize("typed", ["-4 to 6", "−4 to 6", "-4..6", "-4° to 6°", "-4; 6", "-4 and 6"])
def test_bands_as_people_type_them(plans, typed):
    change_settings(plans, {"golden_limits": typed})
    assert read_setting(plans, "golden_limits") == [-4, 6]


@pytest.mark.parametrize(
    ("name", "typed"),
    [("golden_limits", "-4"), ("golden_limits", "low to high"), ("lighting_up_deg", "dusk"), ("turbidity", "99"),
     ("geocoder_contact", "x" * 500), ("storey_height_m", "nan")],
)  # fmt: skip
def test_bad_text_names_its_field_and_keeps_nothing(plans, name, typed):
    before = settings_form(plans)
    with pytest.raises(InputProblems) as found:
        change_settings(plans, {"assumed_height_m": "9", name: typed})
    assert set(found.value.by_field) == {name}
    assert settings_form(plans) == before
