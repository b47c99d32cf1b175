"""Who is lent as a hand where a group has too few: helpers first, the organiser last, nobody in two places."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from models.workshop.ways import Loan

ORGANISER = 0
"""The organiser goes by this among numbers of persons."""


def lent_by(loans: Iterable[Loan], lenders: Sequence[int]) -> Mapping[tuple[int, int], tuple[int, ...]]:
    """By (round, post): who lends a hand there, in the order of `lenders`, for the whole visit.

    Where there are fewer lenders than hands that lack, the loans that come first have them, and the rest lack still.
    """
    free: dict[int, list[int]] = {}
    found = {}
    for loan in loans:
        there = free.setdefault(loan.round, list(lenders))
        found[loan.round, loan.post] = tuple(there[: loan.hands])
        free[loan.round] = there[loan.hands :]
    return found
