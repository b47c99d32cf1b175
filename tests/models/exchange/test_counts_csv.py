"""Counts as CSV: read and written back alike, refused line by line, harmless in a spreadsheet."""

from __future__ import annotations

from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.exchange.counts_csv import MOST_ROWS, read_counts, write_counts
from models.problems import InputProblem
from models.street.footfall import Count

HEAD = "starts,minutes,number\n"
AT = datetime(2026, 10, 17, 11, 0, tzinfo=timezone(timedelta(hours=2)))


def test_the_least_a_file_may_say():
    (row,) = read_counts((HEAD + "2026-10-17 11:00,10,42\n").encode()).rows
    assert (row.line, row.spot, row.count.starts) == (2, "", datetime(2026, 10, 17, 11, 0))  # noqa: DTZ001  local
    assert (row.count.minutes, row.count.number, row.count.of) == (10.0, 42, "people")


def test_semicolons_decimal_commas_a_byte_order_mark_and_columns_in_any_order():
    text = "\ufeffNumber;Minutes;Starts;Of\n20;7,5;2026-10-17T11:00+02:00;Parties\n\n"
    found = read_counts(text.encode())
    assert [(row.count.number, row.count.minutes, row.count.of) for row in found.rows] == [(20, 7.5, "parties")]
    assert found.rows[0].count.starts == AT


@pytest.mark.parametrize(
    ("line", "column"),
    [
        ("yesterday,10,42", "starts"), ("2026-10-17 11:00,ten,42", "minutes"), ("2026-10-17 11:00,10,4.5", "number"),
        ("2026-10-17 11:00,0,42", "minutes"), ("2026-10-17 11:00,nan,42", "minutes"),
        ("2026-10-17 11:00,10,-1", "number"),
        ("2026-10-17 11:00,10,42,7", "cells"),
        ("2026-10-17 11:00,10", "number"), ("2026-02-30 11:00,10,42", "starts"), ("2026-10-17 11:00,10,²", "number"),
    ],
)  # fmt: skip
def test_a_line_that_cannot_be_read_is_named_and_the_others_are_read(line, column):
    found = read_counts((HEAD + line + "\n2026-10-17 12:00,10,7\n").encode())
    assert [where for where, _ in found.refused] == [f"line 2, {column}"]
    assert [row.count.number for row in found.rows] == [7]


@pytest.mark.parametrize(
    "data",
    [b"", b"people,when\n1,2\n", b"starts,minutes,number,colour\n", b"\xff\xfe\x00", b"a\x00b",
     (HEAD + "2026-10-17 11:00,10,42\n" * (MOST_ROWS + 1)).encode(), b'starts,minutes,number\n"' + b"x" * 200_000],
)  # fmt: skip
def test_what_is_no_such_file_is_refused_whole(data):
    with pytest.raises(InputProblem) as problem:
        read_counts(data)
    assert problem.value.field == "file"


@given(st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=60), st.integers(0, 100_000))
def test_what_is_written_reads_back_alike(text, number):
    count = Count(starts=AT, minutes=12.5, number=number, of="parties", whence=text.strip(), note=text.strip())
    (row,) = read_counts(write_counts([(text.strip(), count)]).encode()).rows
    assert row.count == count
    assert row.spot == text.strip()


@pytest.mark.parametrize("text", ["=1+1", "=A1", "+A1", "-1-1", "@cmd"])
def test_no_text_is_a_formula_to_a_spreadsheet(text):
    written = write_counts([(text, Count(starts=AT, minutes=10, number=1, whence=text))])
    assert f",{text}" not in written
    assert f"\n{text}" not in written
