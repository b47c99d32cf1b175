"""What is wanted of a setup, and how much of the working exposure each light then has to give.

Flash and ambient on the face come to one working exposure together: with the ambient giving A of it, key and fill share
1 - A (the sum). A face ratio R = (key + fill + A) / (fill + A) then asks for fill + A = 1/R.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from models.light.setup import ON_THE_FACE, Role, Setup
from models.problems import InputProblem

FARTHEST_M = 6.0
"""Further than this a light has left the station: house rule."""

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """ratio_stops: of key to fill, flash against flash, or of the face with the ambient counted as fill. edge_stops,
    hair_stops, background_stops: what those lights give over (+) or under (-) the working aperture; common practice, no
    source. aperture: where the lens is to stay, None for whatever the light asks. farthest_m: how far a light may go.
    """

    ratio_stops: float = 1.0
    ratio: Literal["key:fill", "face"] = "key:fill"
    edge_stops: float = 0.0
    hair_stops: float = -1.0
    background_stops: float = 0.0
    aperture: float | None = None
    farthest_m: float = FARTHEST_M

    def __post_init__(self) -> None:
        if self.ratio not in ("key:fill", "face"):
            raise InputProblem("ratio", "is key:fill or face")
        if not (-5 if self.ratio == "key:fill" else 0) <= self.ratio_stops <= 8:
            raise InputProblem("ratio_stops", "give stops from -5 to 8, for the face from 0")
        for field in ("edge_stops", "hair_stops", "background_stops"):
            if not -5 <= getattr(self, field) <= 5:
                raise InputProblem(field, "give stops over or under the working aperture, -5 to 5")
        if self.aperture is not None and not 0.7 <= self.aperture <= 64:
            raise InputProblem("aperture", "give an f-number, 0.7 to 64")
        if not 0 < self.farthest_m < 100:
            raise InputProblem("farthest_m", "give metres, up to 100")


def shares_wanted(setup: Setup, wanted: Wanted, ambient_share: ArrayLike) -> tuple[Floats, ...]:
    """For each light of the setup the share of the working exposure it is to give; arrays like `ambient_share`, which
    is what the ambient gives on the face. Lights of one role on the face share evenly."""
    ambient = np.asarray(ambient_share, dtype=np.float64)
    count = Counter(light.role for light in setup.lights)
    flash = np.maximum(1 - ambient, 0.0)
    fill = _fill(wanted, flash, ambient) if count["key"] and count["fill"] else flash * bool(count["fill"])
    level: dict[Role, Floats] = {"key": flash - fill, "fill": fill}
    beside = {"edge": wanted.edge_stops, "hair": wanted.hair_stops, "background": wanted.background_stops}
    return tuple(
        level[light.role] / count[light.role]
        if light.role in ON_THE_FACE
        else np.full(ambient.shape, 2.0 ** beside[light.role])
        for light in setup.lights
    )


def _fill(wanted: Wanted, flash: Floats, ambient: Floats) -> Floats:
    if wanted.ratio == "key:fill":
        return np.asarray(flash / (1 + 2.0**wanted.ratio_stops))
    return np.asarray(np.clip(2.0**-wanted.ratio_stops - ambient, 0.0, flash))
