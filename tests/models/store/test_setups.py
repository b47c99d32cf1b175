from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from models.light.exposure import Settings
from models.light.wanted import Wanted
from models.problems import InputProblem
from models.store.engine import Store
from models.store.setups import LightDraft, SetupDraft, Try, list_setups, shelf
from models.store.versions import Clash, Missing

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
KEY = LightDraft(role="key", flash="small", modifier="grid-20", axis_deg=-45, zoom_mm=50)
TWO = SetupDraft(
    title="  Strip key with edge ",
    camera="main-camera",
    trigger="plain-radio",
    settings=Settings(1 / 200, 4, 100),
    wanted=Wanted(ratio_stops=2, ratio="face", aperture=4),
    lights=(KEY, LightDraft(role="edge", flash="old", axis_deg=165, held=False, power=1 / 16)),
    tries=(Try(3, "2026-10-17", "16:40", 2, 270.0),),
    notes="Edge low.",
)


def test_a_setup_comes_back_as_it_was_kept_but_for_idle_blanks(store: Store) -> None:
    with store.writing() as s:
        kept = shelf.add(s, TWO)
    with store.reading() as s:
        back = shelf.get(s, kept.id)
    assert (back.id, back.version, back.title) == (kept.id, 1, "Strip key with edge")
    assert (back.settings, back.wanted, back.lights, back.tries) == (TWO.settings, TWO.wanted, TWO.lights, TWO.tries)


def test_a_change_of_something_older_clashes_and_loses_nothing(store: Store) -> None:
    with store.writing() as s:
        kept = shelf.add(s, TWO)
        shelf.change(s, kept.id, 1, replace(TWO, title="Another"))
        with pytest.raises(Clash) as clash:
            shelf.change(s, kept.id, 1, replace(TWO, title="Mine"))
        assert (clash.value.current.title, clash.value.what) == ("Another", "setup")


def test_deleted_setups_come_back_and_leave_the_list_meanwhile(store: Store) -> None:
    with store.writing() as s:
        kept = shelf.add(s, TWO)
        shelf.delete(s, kept.id, 1, now=NOW)
        assert list_setups(s) == ()
        with pytest.raises(Missing):
            shelf.get(s, kept.id)
        shelf.restore(s, kept.id)
        assert [setup.title for setup in list_setups(s)] == ["Strip key with edge"]


def test_the_list_goes_by_title_whatever_its_letters(store: Store) -> None:
    with store.writing() as s:
        for title in ("beta", "Alpha", "alpha"):
            shelf.add(s, replace(TWO, title=title))
        assert [setup.title for setup in list_setups(s)] == ["Alpha", "alpha", "beta"]


@pytest.mark.parametrize(
    ("field", "change"),
    [
        ("title", {"title": " "}),
        ("title", {"title": "x" * 121}),
        ("title", {"title": "a\x00b"}),
        ("notes", {"notes": "x" * 4001}),
        ("camera", {"camera": ""}),
        ("camera_m", {"camera_m": float("nan")}),
        ("lens_mm", {"lens_mm": 5.0}),
        ("light_1_role", {"lights": ()}),
        ("light_1_role", {"lights": (KEY,) * 5}),
        ("light_2_flash", {"lights": (KEY, replace(KEY, flash=""))}),
        ("light_1_role", {"lights": (replace(KEY, role="moon"),)}),  # type: ignore[arg-type]
        ("light_1_distance_m", {"lights": (replace(KEY, distance_m=0.1),)}),
        ("light_1_power", {"lights": (replace(KEY, power=1.5),)}),
        ("light_1_axis_deg", {"lights": (replace(KEY, axis_deg=200.0),)}),
        ("tries", {"tries": TWO.tries * 13}),
    ],
)
def test_what_cannot_be_is_refused_by_its_field(store: Store, field: str, change: dict[str, object]) -> None:
    with store.writing() as s, pytest.raises(InputProblem) as problem:
        shelf.add(s, replace(TWO, **change))  # type: ignore[arg-type]
    assert problem.value.field == field
