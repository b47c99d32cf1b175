"""Lists of people as pasted or saved: cells by line, whichever mark parts them, and what is no list."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.exchange.delimited import decoded, parting_mark
from models.exchange.people_csv import COLUMNS, LONGEST_TEXT, MOST_LINES, read_people
from models.problems import InputProblem


def cells(text):
    return [(each.line, dict(each.cells)) for each in read_people(text).lines]


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_a_line_is_a_name_and_a_contact(mark):
    text = f"Ana R.{mark} ana@mail.example\n\n Bo \nCy{mark}555{mark}evenings\n"
    assert cells(text) == [
        (1, {"name": "Ana R.", "contact": "ana@mail.example"}),
        (3, {"name": "Bo", "contact": ""}),
        (4, {"name": "Cy", "contact": "555, evenings"}),
    ]


def test_the_mark_is_that_of_the_first_line_that_has_one():
    assert parting_mark("Cy\nBo; 555, evenings; x") == ";"
    assert parting_mark("a,b;c") == ","
    assert parting_mark("no mark at all", "\t,;") == "\t"
    assert cells("Cy\nBo, 555")[1][1] == {"name": "Bo", "contact": "555"}


def test_lines_that_disagree_go_each_by_its_own_mark():
    pasted = "Ana R., ana@mail.example\nBo; 555, evenings\nCy\t556\nDee\nEd; 557"
    assert [tuple(each.values()) for _, each in cells(pasted)] == [
        ("Ana R.", "ana@mail.example"), ("Bo", "555, evenings"), ("Cy", "556"), ("Dee", ""), ("Ed", "557"),
    ]  # fmt: skip
    assert cells("Bo; 555\nRuiz, Ana; 556\nCy, 557")[1:] == [
        (2, {"name": "Ruiz, Ana", "contact": "556"}), (3, {"name": "Cy", "contact": "557"}),
    ]  # fmt: skip
    assert cells("Ana, 555; home")[0][1] == {"name": "Ana", "contact": "555; home"}


def test_a_stray_quotation_mark_spoils_no_other_line():
    assert [each["name"] for _, each in cells('"Ana, 555\nBo, 556\nCy "Cee" D., 557')][1:] == ["Bo", 'Cy "Cee" D.']


def test_named_columns_in_any_order_are_read_and_unknown_ones_said():
    found = read_people('Notes,NAME,Emergency  Contact,Shoe\n"two\nlines",Ana,Bo,38\n,Cy,,\n')
    assert [(each.line, dict(each.cells)) for each in found.lines] == [
        (2, {"notes": "two\nlines", "name": "Ana", "emergency_contact": "Bo"}),
        (4, {"notes": "", "name": "Cy", "emergency_contact": ""}),
    ]
    assert found.ignored == ("Shoe",)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("a\x00", "no text"), ("A\n" * (MOST_LINES + 1), "201 lines; at most 200"),
        ("x" * (LONGEST_TEXT + 1), "at most 100,000"),
        ("name,name\nAna,Bo", "twice"), ("name,contact\nAna,5,6", "line 2 has 3 cells under 2"),
        ('name,contact\n"Ana,5', "cannot be parted"),
    ],
)  # fmt: skip
def test_what_is_no_list_is_said(text, said):
    with pytest.raises(InputProblem, match=said) as problem:
        read_people(text)
    assert problem.value.field == "text"


def test_the_longest_text_is_read_though_it_be_one_cell():
    assert cells("x" * LONGEST_TEXT) == [(1, {"name": "x" * LONGEST_TEXT, "contact": ""})]


def test_bytes_that_are_no_text_are_said():
    assert decoded("\ufeffAna".encode()) == "Ana"
    for data in (b"\xff\xfe", b"A\x00"):
        with pytest.raises(InputProblem):
            decoded(data)


@given(st.text())
def test_any_text_is_a_list_or_says_why_not(text):
    found, field = (), "text"
    try:
        found = read_people(text).lines
    except InputProblem as problem:
        field = problem.field
    assert field == "text"
    assert [each.line for each in found] == sorted({each.line for each in found})
    assert all(set(each.cells) <= set(COLUMNS) for each in found)
