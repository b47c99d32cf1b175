"""What a passphrase must be, and that nothing typed breaks the comparison."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.planning.account.passphrase import LONGEST, METHOD, checked_passphrase, hashed, matches, tidy
from models.problems import InputProblems

FAST = "scrypt:128:1:1"
GOOD = "four plain words here"


@pytest.mark.parametrize(
    ("typed", "field", "words"),
    [
        ("", "passphrase", "Choose a passphrase"),
        ("   ", "passphrase", "Choose a passphrase"),
        ("eleven char", "passphrase", "11 characters. Take at least 12"),
        ("aaaaaaaabbbbbbbb", "passphrase", "same few characters"),
        ("quay\0lane bridge yard", "passphrase", "no keyboard types"),
        ("quay lane\nbridge yard", "passphrase", "no keyboard types"),
        ("word " * LONGEST, "passphrase", "Take at most 500"),
    ],
)
def test_what_no_passphrase_is(typed, field, words):
    with pytest.raises(InputProblems) as wrong:
        checked_passphrase(typed, typed)
    assert words in wrong.value.by_field[field]
    assert typed.strip() == "" or typed not in str(wrong.value)


def test_typed_twice_and_not_the_same():
    with pytest.raises(InputProblems) as wrong:
        checked_passphrase(GOOD, GOOD + "s")
    assert list(wrong.value.by_field) == ["again"]


def test_one_that_is_good_comes_back_tidy():
    assert checked_passphrase(f" {GOOD} ", GOOD) == GOOD


def test_the_same_letters_from_two_keyboards_are_the_same_passphrase():
    composed, decomposed = "Stra\u00dfe zur Br\u00fccke", "Stra\u00dfe zur Bru\u0308cke"
    assert composed != decomposed
    assert checked_passphrase(composed, decomposed) == composed
    assert matches(decomposed, hashed(tidy(composed), FAST), FAST)
    assert matches("\uff46our plain words here", hashed(GOOD, FAST), FAST)


def test_only_the_passphrase_matches():
    kept = hashed(GOOD, FAST)
    assert GOOD not in kept
    assert kept != hashed(GOOD, FAST)
    assert matches(GOOD, kept, FAST)
    for other in ("", GOOD.upper(), GOOD[:-1], GOOD + "\0", GOOD + "\ud800", GOOD + "x" * 10_000, GOOD + " " * 5000):
        assert not matches(other, kept, FAST)


@given(st.text(max_size=60))
def test_nothing_typed_matches_where_none_is_kept(typed):
    assert matches(typed, None, FAST) is False


def test_a_wrong_one_takes_the_same_work_whether_or_not_one_is_kept(monkeypatch):
    compared = []
    monkeypatch.setattr(
        "models.planning.account.passphrase.check_password_hash", lambda kept, typed: compared.append(kept) or False
    )
    for kept in (hashed(GOOD, FAST), None):
        for typed in ("wrong", "", "x" * 100_000):
            matches(typed, kept, FAST)
    assert {kept.split("$")[0] for kept in compared} == {FAST}
    assert len(compared) == 6


def test_the_cost_in_force_is_what_the_cheat_sheet_names():
    """OWASP Password Storage Cheat Sheet, scrypt: N=2^15 (32 MiB), r=8, p=3."""
    assert METHOD.split(":") == ["scrypt", str(2**15), "8", "3"]
