"""How light gets to one subject: all that depends on the place alone, worked out once.

      sky patches  . - ~ ~ - .             1  rays from the subject find sky, wall or ground, and what they find is
                 /     |       \\              gathered into facets, a few hundred                        (view, facets)
          ______       |                   2  rays from each facet find sky patches and other facets, some of them
         |      |      |      ______          out of the subject's sight                                     (exchange)
         | wall |<-----|---->| wall |      3  one linear solve gives what light between facets adds up to: every
         |      |      |     |      |         plane's and every strip of the backdrop's answer to each patch of sky
         |      |<-.   o--.->|      |         and to sun on each facet                                      (transport)
         |______|   `--+-' `-|______|      4  how high the sun must stand to reach points of each facet       (horizons)
        ~~~~~~~~~~~~ ground ~~~~~~~~~~

With e the light that falls on q facets from sky and sun, r their reflectance and F what share of the light a facet gets
comes from which other, all light on them is E = e + F r E. What reaches the subject is V r E / pi with V the facets as
the subject sees them; transposed, one solve serves all skies and suns: x = (1 - F r)^-T (V r / pi), answer = x e.
"""

from __future__ import annotations

import io
from dataclasses import dataclass, fields
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray

from models.light.exchange import exchange
from models.light.facets import SEEN_CELL, Spot, gather
from models.light.horizons import horizons
from models.light.leaves import Leaves, leaves_of, sent_back
from models.light.patches import PATCHES, patch_of
from models.light.rays import SKY, surfaces_of
from models.light.reach import within_reach
from models.light.view import GROUND, OPEN, STRIPS, WALL, View, look_round
from models.sky.dome import unit_vectors
from models.street.scene import Scene, Walls, building_over

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

MODEL_VERSION: Final = "light 2"
BEARINGS: Final = (0, 45, 90, 135, 180, 225, 270, 315)
UP: Final = len(BEARINGS)
PLANES: Final = np.vstack([unit_vectors(np.array(BEARINGS), 0.0), [0.0, 0.0, 1.0]])
EVERY = 5
OWN_DIRECTIONS: Final = 720
HORIZON_STEP_DEG: Final = 0.5  # about the sun's disc


@dataclass(frozen=True, slots=True, eq=False)
class Coefficients:
    """All that is fixed about the light at one subject, in one season of its canopies.

    Planes are the eight upright ones and, last, the level one. A strip is 5 degrees of the backdrop.

    sky: (9 + 3 STRIPS, PATCHES), lx on each plane, then cd/m² of walls, of ground, and of sky seen in each strip, for
        each cd/m² of a patch of sky.
    bounced: (9 + 2 STRIPS, q), the same (but sky) for each lx of the sun's own light on a facet; for strips without the
        facet's own first return, which is counted point by point.
    made_of: (4, STRIPS), share of each strip that is wall, ground, sky, leaves.
    point_facet, point_share: (k,) facet of each point at which the sun is looked for, and its share of that facet.
    point_strip, point_weight: (k,) strip in which the subject sees the point, and its share of that strip.
    point_horizon: (k, DIRECTIONS) how high the sun must stand to reach the point, in steps of HORIZON_STEP_DEG.
    facet_normal: (q, 3). facet_reflectance: (q,). facet_near: (q,) bool, under the subject's own canopies.
    own_horizon_deg: (OWN_DIRECTIONS,) the subject's own skyline of walls.
    leaf_edges_deg, leaf_transmittance: the canopies (see Leaves). leaf_planes: (9, 9), leaf_strips: (STRIPS, 9), what
        they send down: lx on planes and cd/m² in strips for each lx on the planes.
    reflectance: (2,) of walls and ground.
    """

    sky: Floats
    bounced: Floats
    made_of: Floats
    point_facet: Ints
    point_share: Floats
    point_strip: Ints
    point_weight: Floats
    point_horizon: NDArray[np.uint8]
    facet_normal: Floats
    facet_reflectance: Floats
    facet_near: NDArray[np.bool_]
    own_horizon_deg: Floats
    leaf_edges_deg: Floats
    leaf_transmittance: Floats
    leaf_planes: Floats
    leaf_strips: Floats
    reflectance: Floats

    @property
    def leaves(self) -> Leaves:
        return Leaves(self.leaf_edges_deg, self.leaf_transmittance)

    def to_bytes(self) -> bytes:
        """For a cache under a key that names MODEL_VERSION."""
        out = io.BytesIO()
        np.savez(out, **{field.name: getattr(self, field.name) for field in fields(self)})
        return out.getvalue()

    @classmethod
    def from_bytes(cls, data: bytes) -> Self:
        with np.load(io.BytesIO(data), allow_pickle=False) as kept:
            return cls(**{field.name: kept[field.name] for field in fields(cls)})


def coefficients(scene: Scene, *, in_leaf: bool = True) -> Coefficients:
    """The light's fixed part for a subject at the scene's origin. The ground reaches to the horizon."""
    walls = within_reach(_without_what_stands_over(scene.walls, scene.eye_m), scene.eye_m)
    surfaces = surfaces_of(walls, scene.wall_reflectance, scene.ground_reflectance)
    leaves = leaves_of(scene.canopies, in_leaf)
    eye = np.array([0.0, 0.0, scene.eye_m])
    view = look_round(surfaces, eye)
    through = leaves.lets_through(view.azimuth_deg, view.elevation_deg)
    hit = np.flatnonzero(view.surface != SKY)
    met = Spot(view.surface[hit], view.point_m[hit])
    seen, facet = gather(surfaces, eye, met, view.solid_angle_sr[hit], SEEN_CELL)
    between = exchange(surfaces, eye, seen, leaves)
    reflectance = surfaces.reflectance[between.surface]
    seen_by = _seen_by(view, through, hit, facet, len(reflectance)) * (reflectance / np.pi)
    kept_apart = np.eye(len(reflectance), dtype=np.float32) - between.between * reflectance.astype(np.float32)
    answer = np.linalg.solve(kept_apart.T, seen_by.T.astype(np.float32)).T
    sky = _sky_seen(view, through)
    sky[: len(answer)] += answer @ between.sky
    answer[UP + 1 :] -= seen_by[UP + 1 :]
    sample = _sun_points(view, hit, facet)
    facet = facet[sample]
    share = view.solid_angle_sr[hit][sample] / np.bincount(facet, view.solid_angle_sr[hit][sample])[facet]
    unseen = np.bincount(between.sun_facet, minlength=len(reflectance))[between.sun_facet]
    nothing = np.zeros(len(unseen))
    point_facet = np.concatenate([facet, between.sun_facet])
    point = np.concatenate([met.point_m[sample], between.sun_point_m])
    above = point + 0.02 * between.normal[point_facet]
    horizon = horizons(surfaces, above, between.normal[point_facet])
    leaf = sent_back(leaves, view.azimuth_deg, view.elevation_deg, scene.wall_reflectance, scene.ground_reflectance)
    return Coefficients(
        sky=sky.astype(np.float32),
        bounced=answer.astype(np.float32),
        made_of=_made_of(view, through),
        point_facet=point_facet,
        point_share=np.concatenate([share, 1.0 / unseen]),
        point_strip=np.concatenate([view.strip[hit][sample], nothing.astype(np.intp)]),
        point_weight=np.concatenate([(view.strip_weight * through)[hit][sample], nothing]),
        point_horizon=np.ceil(horizon / HORIZON_STEP_DEG).astype(np.uint8),
        facet_normal=between.normal,
        facet_reflectance=reflectance,
        facet_near=leaves.near(between.centre_m, eye),
        own_horizon_deg=horizons(surfaces, eye[None], PLANES[UP:], OWN_DIRECTIONS)[0],
        leaf_edges_deg=leaves.edges_deg,
        leaf_transmittance=leaves.transmittance,
        leaf_planes=_on_planes(view).T @ leaf,
        leaf_strips=_by_strip(view, leaf * view.strip_weight[:, None]),
        reflectance=np.array([scene.wall_reflectance, scene.ground_reflectance]),
    )


def _sun_points(view: View, hit: Ints, facet: Ints) -> Ints:
    """Which of the points met are asked for the sun: all of the backdrop, some of the rest, and one of each facet."""
    behind = view.strip_weight[hit] > 0
    chosen = behind | (hit % EVERY == 0)
    chosen[np.unique(facet, return_index=True)[1]] = True
    return np.flatnonzero(chosen)


def _without_what_stands_over(walls: Walls, eye_m: float) -> Walls:
    """The walls but those of buildings that hold the eye: only a roof that was noted counts there."""
    low = walls.only(walls.bottom_m <= eye_m)
    while (over := building_over(low)) is not None:
        walls, low = walls.only(walls.building != over), low.only(low.building != over)
    return walls


def _on_planes(view: View) -> Floats:
    """(r, 9) projected solid angle of each ray on each plane."""
    angle: Floats = np.maximum(view.direction @ PLANES.T, 0.0) * view.solid_angle_sr[:, None]
    return angle


def _by_strip(view: View, value: Floats) -> Floats:
    """(STRIPS, n) sums of values (r, n) over the rays of each strip."""
    total = np.zeros((STRIPS, value.shape[1]))
    np.add.at(total, view.strip, value)
    return total


def _made_of(view: View, through: Floats) -> Floats:
    parts = [view.strip_weight * through * (view.made_of == kind) for kind in (WALL, GROUND, OPEN)]
    return _by_strip(view, np.stack([*parts, view.strip_weight * (1.0 - through)], axis=1)).T


def _sky_seen(view: View, through: Floats) -> Floats:
    """(9 + 3 STRIPS, PATCHES) the sky that planes and strips see themselves."""
    seen = np.zeros((UP + 1 + 3 * STRIPS, PATCHES))
    ray = np.flatnonzero(view.surface == SKY)
    patch = patch_of(view.azimuth_deg[ray], view.elevation_deg[ray])
    on_planes = _on_planes(view)[ray] * through[ray, None]
    for plane in range(UP + 1):
        seen[plane] = np.bincount(patch, on_planes[:, plane], PATCHES)
    np.add.at(seen, (UP + 1 + OPEN * STRIPS + view.strip[ray], patch), (view.strip_weight * through)[ray])
    return seen


def _seen_by(view: View, through: Floats, hit: Ints, facet: Ints, facets: int) -> Floats:
    """(9 + 2 STRIPS, q) projected solid angle of each facet on the planes, and its share of each strip."""
    seen = np.zeros((UP + 1 + 2 * STRIPS, facets))
    on_planes = _on_planes(view)[hit] * through[hit, None]
    for plane in range(UP + 1):
        seen[plane] = np.bincount(facet, on_planes[:, plane], facets)
    row = UP + 1 + view.made_of[hit] * STRIPS + view.strip[hit]
    np.add.at(seen, (row, facet), (view.strip_weight * through)[hit])
    return seen
