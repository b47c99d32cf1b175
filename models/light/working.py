"""When a setup works: over a day or a year of light, without moving a light."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.light.exposure import KEEP_START_STOPS
from models.light.power import HALF_RUNG_STOPS
from models.light.reserve import ev_to_beat_series
from models.light.setup import Setup, choice_of, setup_limits
from models.light.solve import shutter_bounds_s
from models.light.wanted import Wanted

Why = Literal[
    "works",
    "not known",
    "ambient exposes",
    "too weak",
    "too strong",
    "lights too far apart",
    "too bright for the camera",
    "too dark for the camera",
]
WHYS: tuple[Why, ...] = get_args(Why)


@dataclass(frozen=True, slots=True, eq=False)
class Working:
    """Over n instants. stops_in_hand: (n,) of the weakest light at the sync speed; weakest: (n,) its place in the
    setup. why: (n,) places in WHYS."""

    stops_in_hand: NDArray[np.float64]
    weakest: NDArray[np.intp]
    why: NDArray[np.int8]

    @property
    def works(self) -> NDArray[np.bool_]:
        return np.asarray(self.why == 0)

    @property
    def spans(self) -> tuple[tuple[int, int], ...]:
        """First and last instant of every stretch in which it works."""
        edges = np.flatnonzero(np.diff(np.concatenate(([False], self.works, [False]))))
        return tuple((int(first), int(past) - 1) for first, past in edges.reshape(-1, 2))


def working_over(setup: Setup, wanted: Wanted, subject_ev: ArrayLike, behind_ev: ArrayLike | None) -> Working:
    """Whether the setup works as it stands, for arrays of EV100 of one shape.

    Some shutter time between the sync speed and the hand-held limit must keep all lights on their ladders and the
    camera within its dials (to a third of a stop).
    """
    subject = np.asarray(subject_ev, dtype=np.float64)
    to_beat = ev_to_beat_series(choice_of(setup.lights[0], setup), subject, behind_ev)
    limits = setup_limits(setup, wanted.aperture)
    ambient = 2.0 ** (subject - to_beat)
    most, least, weakest = shutter_bounds_s(setup, wanted, to_beat, ambient)
    sync_s, slowest_s = limits.fastest_s, max(limits.slowest_s, limits.fastest_s)
    one_s = 2.0**-to_beat
    shortest = one_s * limits.widest_aperture**2 * 100 / limits.highest_iso * 2**-KEEP_START_STOPS
    longest = one_s * limits.smallest_aperture**2 * 100 / limits.base_iso * 2**KEEP_START_STOPS
    checks: list[tuple[Why, NDArray[np.bool_]]] = [
        ("not known", ~np.isfinite(to_beat)),
        ("ambient exposes", ambient >= 1),
        ("too weak", most < sync_s),
        ("too strong", least > slowest_s),
        ("too bright for the camera", longest < sync_s),
        ("too dark for the camera", shortest > slowest_s),
        ("too weak", most < shortest),
        ("too strong", least > longest),
        ("lights too far apart", least > most),
    ]
    why = np.select([check for _, check in checks], [WHYS.index(words) for words, _ in checks], 0)
    return Working(np.log2(most / 2**HALF_RUNG_STOPS / sync_s), weakest, why.astype(np.int8))
