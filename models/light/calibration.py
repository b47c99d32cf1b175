"""What meter readings teach about a spot: an offset to the computed light, and how far it can be trusted.

Gaussian conjugate update of an unknown offset in stops: the prior says how far a spot may lie off, each reading weighs
by its own doubt (Bayes; any statistics handbook). The doubts are the house's own estimates: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Literal, NamedTuple

from models.problems import InputProblem

ReadingKind = Literal["incident", "photo"]

PRIOR_STOPS = 0.7
"""How far the light at a spot lies off the computed one before anyone has metered it."""

READING_STOPS: dict[str, float] = {"incident": 0.33, "photo": 0.7}
"""Doubt of one reading: an incident meter, or the settings kept in a photo's metadata."""

NEVER_UNDER_STOPS = 0.25
"""What differs from day to day, however many readings there are."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: metered minus computed, in stops (+ brighter than computed), and how it was taken."""

    offset_stops: float
    kind: ReadingKind = "incident"

    def __post_init__(self) -> None:
        if not -20 <= self.offset_stops <= 20:
            raise InputProblem("offset_stops", "a reading cannot lie more than 20 stops off")
        if self.kind not in READING_STOPS:
            raise InputProblem("kind", "a reading is incident or from a photo")


class Posterior(NamedTuple):
    """Add offset_stops to the computed EV; the result is right give or take doubt_stops (one standard deviation)."""

    offset_stops: float
    doubt_stops: float


def posterior(
    readings: Sequence[Reading],
    prior: float = PRIOR_STOPS,
    *,
    heights_stops: float = 0.0,
    cloud_stops: float = 0.0,
) -> Posterior:
    """Offset and predictive doubt of a spot: sqrt(posterior variance + 0.25^2).

    heights_stops: doubt from guessed heights; it is the spot's own, so readings pin it down. cloud_stops: doubt from
    the cloud assumed; it is the day's, so readings of other days do not.
    """
    if prior < 0 or heights_stops < 0 or cloud_stops < 0:
        raise InputProblem("doubt_stops", "a doubt cannot be under zero")
    prior_variance = prior**2 + heights_stops**2
    weights = [READING_STOPS[reading.kind] ** -2 for reading in readings]
    gain = prior_variance / (1 + prior_variance * sum(weights))
    offset = gain * sum(weight * reading.offset_stops for weight, reading in zip(weights, readings, strict=True))
    return Posterior(offset, sqrt(gain + NEVER_UNDER_STOPS**2 + cloud_stops**2))
