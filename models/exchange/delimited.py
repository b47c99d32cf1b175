"""What all tables typed or saved as text share: which mark parts the cells, and the text of a file's bytes."""

from __future__ import annotations

from models.problems import InputProblem

FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""A spreadsheet takes a text that begins so for a formula; it is written with an apostrophe before it."""


def parting_mark(text: str, marks: str = ",;") -> str:
    """The mark that the first line which holds any has most of; where several are alike, the first of `marks`."""
    first = next((line for line in text.splitlines() if any(mark in line for mark in marks)), "")
    return max(marks, key=first.count)


def decoded(data: bytes) -> str:
    """The text of a file. Raises InputProblem('file') where it is none."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        raise InputProblem("file", f"is not UTF-8 text (byte {problem.start + 1}): save it as CSV UTF-8.") from None
    if "\x00" in text:
        raise InputProblem("file", "holds bytes that are no text: save it as CSV UTF-8.")
    return text
