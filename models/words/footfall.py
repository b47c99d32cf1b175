"""The answer of the footfall page: who comes by in an hour like this one, and how long the line takes to clear."""

from __future__ import annotations

from models.street.footfall import DayKind, Rate
from models.street.gaps import GAP_S
from models.words.said import Said, said
from models.words.street import DAY_KIND_WORDS, NOT_COUNTED, gap_words, rate_words, rounded

COUNTING_CAUTIONS = (
    "Count with your back to a wall, off the kerb and off the cycle lane; look up before you step.",
    "Count heads, not faces: no pictures and no names of people who only walk by.",
    "A count speaks of hours like the one counted. Weather, holidays and a market may double it or halve it.",
)
NEARBY = "Near it, from the map and no count"


def footfall_answer(
    when: str, kind: DayKind, hour: int, rate: Rate | None, gap_s: float = GAP_S, share_crossing: float = 1.0
) -> Said:
    """when: the day and time asked for, with its place. An hour that nobody counted in has no figure."""
    like = f"{DAY_KIND_WORDS[kind]}, {hour} to {hour + 1} h"
    if rate is None:
        return said(
            f"{when}: footfall ", NOT_COUNTED, f". Nobody has counted here on {like}, so neither a rate nor a wait can "
            "be given. Stand there for ten minutes and count who crosses the line to the model.",
        )  # fmt: skip
    if rate.people == 0:
        return said(f"{when}: ", rate_words(rate), ". ") + gap_words(rate, gap_s, share_crossing)
    middle, low, high = (rounded(value) for value in (rate.people_per_h, rate.low_per_h, rate.high_per_h))
    figures = said(f"{when}: ", f"about {middle} people an hour", f", 80 % between {low} and {high} ({like}). ")
    return figures + gap_words(rate, gap_s, share_crossing)


def footfall_short(rate: Rate | None) -> str:
    """For a row among others: 'about 240 people an hour (200 to 290)', 'not counted at that hour'."""
    return f"{NOT_COUNTED} at that hour" if rate is None else rate_words(rate)
