"""What a passphrase must be, and how it is kept and compared: as a salted scrypt hash and nothing else."""

from __future__ import annotations

import threading
import unicodedata
from functools import lru_cache

from werkzeug.security import check_password_hash, generate_password_hash

from models.problems import InputProblems

SHORTEST, LONGEST, FEWEST_DIFFERENT = 12, 500, 5
"""Characters. House rules: long enough that ten guesses in ten minutes get nowhere, short enough to hash."""

METHOD = "scrypt:32768:8:3"
"""OWASP Password Storage Cheat Sheet, scrypt: N 2^15, r 8, p 3 is one of its equal choices; 32 MB while it runs."""

_one_at_a_time = threading.Lock()
"""Six guesses at once would take six times the memory."""


def checked_passphrase(typed: str, again: str) -> str:
    """The passphrase as it is hashed, see `tidy`. Raises InputProblems for 'passphrase' and 'again'."""
    passphrase = tidy(typed)
    problems = {}
    if wrong := _wrong_with(passphrase):
        problems["passphrase"] = wrong
    elif tidy(again) != passphrase:
        problems["again"] = "The two are not the same. Type the passphrase once more in both."
    if problems:
        raise InputProblems(problems)
    return passphrase


def tidy(typed: str) -> str:
    """The same letters whichever keyboard composed them (Unicode NFKC), without spaces at the ends."""
    return unicodedata.normalize("NFKC", typed).strip()


def hashed(passphrase: str, method: str) -> str:
    """method: what `werkzeug.security` calls it, such as METHOD."""
    with _one_at_a_time:
        return generate_password_hash(passphrase, method)


def matches(typed: str, kept: str | None, method: str) -> bool:
    """Whether this is the passphrase. It takes as long where none is kept, or far too much was typed.

    A character that no passphrase holds never fits: to scrypt a short text and the same with NULs behind it are one.
    """
    passphrase = tidy(typed[: 4 * LONGEST])
    fits = kept is not None and len(typed) <= 4 * LONGEST and _typable(passphrase)
    against = kept if kept is not None else _nobodys(method)
    with _one_at_a_time:
        same = check_password_hash(against, passphrase if fits else "")
    return same and fits


def _wrong_with(passphrase: str) -> str:
    if not passphrase:
        return "Choose a passphrase."
    if len(passphrase) < SHORTEST:
        return f"That is {len(passphrase)} characters. Take at least {SHORTEST}: four or five words do."
    if len(passphrase) > LONGEST:
        return f"That is {len(passphrase)} characters. Take at most {LONGEST}."
    if not _typable(passphrase):
        return "That holds a character that no keyboard types. Type it anew."
    if len(set(passphrase)) < FEWEST_DIFFERENT:
        return "That is the same few characters over and over. Take four or five words."
    return ""


def _typable(passphrase: str) -> bool:
    """No controls, no halves of a character."""
    return all(unicodedata.category(letter) not in ("Cc", "Cs") for letter in passphrase)


@lru_cache(maxsize=4)
def _nobodys(method: str) -> str:
    """Made before the lock is taken."""
    return hashed("nobody chose this", method)
