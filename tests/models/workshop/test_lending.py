"""Hands lent: in order of lenders, nobody in two places in one round, what is left over lacks."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from models.workshop.lending import ORGANISER, lent_by
from models.workshop.ways import Loan

LOANS = st.lists(
    st.builds(Loan, round=st.integers(1, 4), post=st.integers(1, 4), hands=st.integers(1, 3)),
    unique_by=lambda loan: (loan.round, loan.post),
)


def test_helpers_go_first_and_the_organiser_last() -> None:
    loans = (Loan(1, 7, 1), Loan(1, 8, 2), Loan(2, 8, 1))
    assert lent_by(loans, (31, ORGANISER)) == {(1, 7): (31,), (1, 8): (ORGANISER,), (2, 8): (31,)}
    assert lent_by(loans, ()) == {(1, 7): (), (1, 8): (), (2, 8): ()}


@given(LOANS, st.lists(st.integers(0, 9), unique=True))
def test_nobody_is_in_two_places_and_nobody_idles_where_a_hand_lacks(loans: list[Loan], lenders: list[int]) -> None:
    found = lent_by(loans, lenders)
    for number in {loan.round for loan in loans}:
        here = [loan for loan in loans if loan.round == number]
        lent = [person for loan in here for person in found[number, loan.post]]
        assert len(lent) == len(set(lent)) == min(len(lenders), sum(loan.hands for loan in here))
        assert all(len(found[number, loan.post]) <= loan.hands for loan in here)
