"""Leaves and roofs overhead: what they let through, where they shade, and what little they send down.

            ~~~~~~~~~~~~~        what the subject sees through a canopy, sky or wall, comes weakened;
          ~~~ canopy ~~~~~~      so does the sun, and so does all light on walls and ground within
            ~~~~~~~~~~~~~        5 m of the subject, as if it hung over them just as over the subject;
                 o               further off, canopies are left out.
        _________|______________

The side that a canopy turns to the subject is lit like the subject's own plane that faces the same way: upright, by the
light on the upright planes, and overhead by what the ground sends up.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from models.street.scene import Canopy

Floats = NDArray[np.floating]

CROWN_REFLECTANCE: Final = 0.20  # trees as opaque solids in daylight simulation, IES LM-83-12
NEAR_M: Final = 5.0  # how far the subject's own canopies reach over what surrounds it: our rule, no source


class Leaves(NamedTuple):
    """n canopies in one season: edges_deg: (n, 4) bearing from, width, elevation from, to. transmittance: (n,)."""

    edges_deg: Floats
    transmittance: Floats

    def lets_through(self, azimuth_deg: Floats, elevation_deg: Floats) -> Floats:
        """Share of light, 0..1, that passes all canopies in each direction; the shapes broadcast."""
        share = np.ones(np.broadcast(azimuth_deg, elevation_deg).shape)
        for (first, width, low, high), passes in zip(self.edges_deg, self.transmittance, strict=True):
            turn = (azimuth_deg - first) % 360.0
            share *= np.where((turn <= width) & (elevation_deg >= low) & (elevation_deg <= high), passes, 1.0)
        return share

    def near(self, point_m: Floats, eye_m: Floats) -> NDArray[np.bool_]:
        """(h,) whether the subject's canopies hang over these points (h, 3) too."""
        near: NDArray[np.bool_] = np.linalg.norm(point_m - eye_m, axis=1) < NEAR_M
        return near & (len(self.transmittance) > 0)


def leaves_of(canopies: Sequence[Canopy], in_leaf: bool) -> Leaves:
    """The canopies as they are in leaf, or bare."""
    edges = [(c.bearing_from_deg, c.width_deg, c.elevation_from_deg, c.elevation_to_deg) for c in canopies]
    passes = [c.transmittance_leaf if in_leaf else c.transmittance_bare for c in canopies]
    return Leaves(np.array(edges, float).reshape(-1, 4), np.array(passes, float))


def sent_back(
    leaves: Leaves, azimuth_deg: Floats, elevation_deg: Floats, roof_reflectance: float, ground_reflectance: float
) -> Floats:
    """(r, 9) luminance of the canopies along each ray, cd/m² for each lx on the eight upright planes and the level one.

    A canopy that lets nothing through reflects like the walls, leaves by CROWN_REFLECTANCE.
    """
    stopped = 1.0 - leaves.lets_through(azimuth_deg, elevation_deg)
    reflectance = np.where(stopped >= 1.0, roof_reflectance, CROWN_REFLECTANCE) * stopped / np.pi
    place = ((azimuth_deg + 180.0) % 360.0) / 45.0
    left, along = np.floor(place).astype(np.intp) % 8, place % 1.0
    rays = np.arange(len(azimuth_deg))
    lit_by = np.zeros((len(rays), 9))
    upright = np.cos(np.radians(elevation_deg))
    lit_by[rays, left] = upright * (1.0 - along)
    lit_by[rays, (left + 1) % 8] += upright * along
    lit_by[:, 8] = np.maximum(np.sin(np.radians(elevation_deg)), 0.0) * ground_reflectance
    luminance: Floats = reflectance[:, None] * lit_by
    return luminance
