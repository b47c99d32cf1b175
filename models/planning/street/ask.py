"""What the footfall page is asked: how long one frame needs a clear line, and which share of walkers crosses it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from models.planning.rules.what_if import Clause
from models.planning.sentence import Word
from models.problems import InputProblem
from models.street.gaps import GAP_S

PARAMETERS = ("gap", "cross")
LONGEST_GAP_S = 60.0
ALL = "all"

_SECONDS = re.compile(r"(\d{1,3}(?:[.,]\d{1,2})?)\s*(?:s|sec|seconds?|)$")
_SHARE = re.compile(r"(\d{1,3})\s*(?:%|per ?cent|)$")
_SHARES = {ALL: 1.0, "most": 0.8, "half": 0.5, "half of them": 0.5, "few": 0.2, "none": 0.0}


@dataclass(frozen=True, slots=True)
class GapAsked:
    """gap_s: what one frame needs clear. share_crossing: of those who come by."""

    gap_s: float
    share_crossing: float
    sentence: Clause


def read_gap(asked: Mapping[str, str]) -> GapAsked:
    """What is missing is as usual: 3 s, and all of them cross. Raises InputProblem naming the parameter."""
    gap_s = _seconds(asked.get("gap", ""))
    share = _share(asked.get("cross", ""))
    shown = ALL if share == 1 else f"{share * 100:.0f} %"
    words = (
        Word(
            "One frame needs ", "gap", "seconds of clear line", f"{gap_s:g} s", f"{gap_s:g} s",
            tuple((text, text) for text in ("1 s", "2 s", "3 s", "5 s", "10 s")), free=True,
        ),
        Word(
            " without anybody in it; of those who come by, ", "cross", "share that crosses the line", shown, shown,
            tuple((text, text) for text in (ALL, "80 %", "50 %", "20 %")), free=True,
        ),
    )  # fmt: skip
    return GapAsked(gap_s, share, Clause(words, " cross between camera and model."))


def _seconds(text: str) -> float:
    typed = text.strip().lower()
    if not typed:
        return GAP_S
    found = _SECONDS.match(typed)
    seconds = float(found[1].replace(",", ".")) if found else 0.0
    if not 0.5 <= seconds <= LONGEST_GAP_S:
        raise InputProblem("gap", f"“{text}”: give 0.5 to {LONGEST_GAP_S:g} seconds, like 3 s.")
    return seconds


def _share(text: str) -> float:
    typed = text.strip().lower()
    if typed in _SHARES:
        return _SHARES[typed]
    if not typed:
        return 1.0
    found = _SHARE.match(typed)
    if not found or int(found[1]) > 100:
        raise InputProblem("cross", f"“{text}” is no share of the people. Type it like all, half or 20 %.")
    return int(found[1]) / 100
