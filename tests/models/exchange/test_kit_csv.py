"""Kit as CSV: there and back, and files that are refused as a whole by what is wrong with them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.exchange.kit_csv import LARGEST_BYTES, MOST_ROWS, read_csv, write_csv
from models.problems import InputProblem

COLUMNS = ("id", "name", "stops")
CELL = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=30)


@given(st.lists(st.fixed_dictionaries({"id": CELL, "name": CELL.map("x{}".format), "stops": CELL}), max_size=5))
def test_what_is_written_is_read_back(rows: list[dict[str, str]]) -> None:
    table = read_csv(write_csv(COLUMNS, rows).encode(), COLUMNS, ("name",))
    assert [dict(row.cells) for row in table.rows] == rows


def test_lines_are_counted_as_an_editor_does() -> None:
    data = b'name,stops\r\n"two\r\nlines",3\r\n\r\nlast,1\r\n'
    table = read_csv(data, COLUMNS, ("name",))
    assert [(row.line, row.cells["name"]) for row in table.rows] == [(2, "two\r\nlines"), (5, "last")]


def test_a_spreadsheet_takes_no_name_for_a_formula() -> None:
    text = write_csv(("name", "shift"), [{"name": "=A1", "shift": "-109"}, {"name": "'tis", "shift": "@x y!"}])
    assert text.splitlines()[1:] == ["'=A1,-109", "'tis,'@x y!"]


def test_semicolons_and_a_byte_order_mark_of_a_spreadsheet() -> None:
    table = read_csv("\ufeffName;Stops;colour\nnd;3;grey\n".encode(), COLUMNS, ("name",))
    assert (table.columns, table.ignored) == (("name", "stops"), ("colour",))
    assert dict(table.rows[0].cells) == {"name": "nd", "stops": "3"}


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "is empty"),
        (b"\n \n", "is empty"),
        (b"name\n\xff\xfe", "is not UTF-8 text (byte 6)"),
        (b"name\nn\x00d\n", "holds bytes that are no text"),
        (b"id,stops\nnd,3\n", "lacks the column name"),
        (b"name,name\na,b\n", "has the column name twice"),
        (b"name,stops\nnd,3,4\n", "line 2 has 3 cells under 2 columns"),
        (b'name\n"open\n', "line 2 cannot be parted into columns"),
        (b"name\n" + b"a\n" * (MOST_ROWS + 1), f"holds {MOST_ROWS + 1} rows; at most {MOST_ROWS}"),
        (b"name\n" + b"a" * 5001, "line 2 holds a cell of over 5,000 characters"),
        (b"a" * (LARGEST_BYTES + 1), "at most 0.5 MB"),
    ],
)
def test_bad_files_are_refused_by_what_is_wrong(data: bytes, message: str) -> None:
    with pytest.raises(InputProblem) as raised:
        read_csv(data, COLUMNS, ("name",))
    assert message in raised.value.message
    assert raised.value.field == "file"
