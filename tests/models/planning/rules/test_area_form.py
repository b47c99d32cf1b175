"""An area's form: there and back, every problem beside its field."""

from __future__ import annotations

import pytest

from models.planning.rules.area_form import area_form_of, read_area_form, understood_area
from models.problems import InputProblems
from models.rules.areas import AreaDraft, Shape
from tests.models.planning.rules.town import HOSTILE, area, square

FORM = {
    "name": "Corn Square",
    "kind": "park",
    "authority": "Council",
    "shape": "52.53, 5.23\n52.54, 5.23\n52.54, 5.24",
}


def problems_of(form: dict[str, str]) -> dict[str, str]:
    with pytest.raises(InputProblems) as problems:
        read_area_form(form)
    return problems.value.by_field


@pytest.mark.parametrize(
    "kept",
    [
        area(),
        area(no_passing=True, holidays="DE-BE", notes="two\nlines", contact="counter", web="https://council.example/x"),
        area(name=HOSTILE, shape=(*square(), *square(52.6))),
        area(shape=((square()[0][0], square(52.522, 5.222, 0.001)[0][0]),)),
    ],
)
def test_an_area_comes_back_from_its_form(kept: AreaDraft) -> None:
    assert read_area_form(area_form_of(kept)) == kept


def test_what_is_typed_is_tidied() -> None:
    read = read_area_form(FORM | {"name": "  Corn \n Square ", "holidays": " nl ", "no_passing": "yes"})
    assert (read.name, read.holidays, read.no_passing) == ("Corn Square", "NL", True)


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("name", " "),
        ("name", "x" * 200),
        ("name", "Corn\x00Square"),
        ("authority", ""),
        ("kind", "palace"),
        ("web", "council.example"),
        ("web", "javascript:alert(1)"),
        ("holidays", "Atlantis"),
        ("notes", "x" * 5000),
        ("shape", ""),
        ("shape", "52.53, 5.23"),
        ("shape", "52.53, 5.23\n52.54, 5.24\n52.53, 5.24\n52.54, 5.23"),
        ("shape", "52.53, 5.23\n52.54, 5.23\n52.55, 5.23"),
        ("shape", "52.53, 5.23\n52.54, 5.23\n2.54, 95.24"),
    ],
)
def test_a_bad_field_is_named(field: str, typed: str) -> None:
    assert set(problems_of(FORM | {field: typed})) == {field}


def test_where_an_outline_crosses_itself_is_said() -> None:
    crossed = problems_of(FORM | {"shape": "52.53, 5.23\n52.54, 5.24\n52.53, 5.24\n52.54, 5.23"})["shape"]
    assert "crosses or touches itself near latitude 52.535, longitude 5.235" in crossed


def test_all_problems_are_named_at_once() -> None:
    assert set(problems_of({})) == {"name", "authority", "shape"}


def test_an_area_far_from_everything_is_asked_about_unless_it_is_meant() -> None:
    def far(shape: Shape) -> str:
        return "It lies about 6,900 km from Foundry Lane, the nearest spot." if shape[0][0][0][0] > 50 else ""

    swapped = FORM | {"shape": "5.23, 52.53\n5.23, 52.54\n5.24, 52.54"}
    with pytest.raises(InputProblems) as problems:
        read_area_form(swapped | {"name": ""}, far)
    assert set(problems.value.by_field) == {"name", "far"}
    assert problems.value.by_field["far"].endswith("longitude: are they swapped?")
    assert read_area_form(swapped | {"far": "yes"}, far).shape[0][0][0] == (52.53, 5.23)
    assert read_area_form(FORM, far) == read_area_form(FORM)


def test_what_was_understood_is_said() -> None:
    said = understood_area(FORM | {"holidays": "nl"})
    assert said["shape"].startswith("3 corners, about ")
    assert "NL" in said["holidays"]
    assert understood_area({"shape": "nonsense", "holidays": "Atlantis"}) == {}
