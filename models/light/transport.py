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
from typing import Final, NamedTuple, Self

import numpy as np
from numpy.typing import NDArray

from models.light.exchange import Exchange, exchange
from models.light.facets import OFF_SURFACE_M, Spot, cell_for, gather
from models.light.horizons import horizons
from models.light.leaves import Leaves, leaves_of, sent_back
from models.light.patches import PATCHES, patch_of
from models.light.rays import SKY, surfaces_of
from models.light.reach import within_reach
from models.light.view import BEARINGS, GROUND, OPEN, PLANES, STRIPS, WALL, View, look_round
from models.street.scene import Scene, Walls, building_over

__all__ = ["BEARINGS", "MODEL_VERSION", "PLANES", "UP", "Coefficients", "coefficients"]

Floats = NDArray[np.floating]
Ints = NDArray[np.intp]

MODEL_VERSION: Final = "light 5"
UP: Final = len(BEARINGS)  # the level plane's place among the planes
EVERY: Final = 5  # of the rays outside the backdrop, one in so many is asked for the sun
OWN_DIRECTIONS: Final = 7200  # a twentieth of a degree: the sun at the edge of a wall is worth stops
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
    view = look_round(surfaces, eye, leaves)
    met = Spot(view.surface[view.hit], view.point_m[view.hit])
    seen, facet = gather(surfaces, eye, met, view.solid_angle_sr[view.hit], cell_for(view.wall_distance_m))
    links = exchange(surfaces, eye, seen, leaves)
    sun = _sun_points(view, facet, links)
    facing = links.normal[sun.facet]
    horizon = horizons(surfaces, sun.point_m + OFF_SURFACE_M * facing, facing)
    own_horizon = horizons(surfaces, eye[None], PLANES[UP:], OWN_DIRECTIONS)[0]
    leaf = sent_back(leaves, view.azimuth_deg, view.elevation_deg, scene.wall_reflectance, scene.ground_reflectance)
    sky, bounced = _answers(view, facet, links)
    return Coefficients(
        sky=sky,
        bounced=bounced,
        made_of=_made_of(view),
        point_facet=sun.facet,
        point_share=sun.share,
        point_strip=sun.strip,
        point_weight=sun.weight,
        point_horizon=np.ceil(horizon / HORIZON_STEP_DEG).astype(np.uint8),
        facet_normal=links.normal,
        facet_reflectance=links.reflectance,
        facet_near=links.near,
        own_horizon_deg=own_horizon,
        leaf_edges_deg=leaves.edges_deg,
        leaf_transmittance=leaves.transmittance,
        leaf_planes=view.on_planes_sr.T @ leaf,
        leaf_strips=view.by_strip(leaf * view.strip_share[:, None]),
        reflectance=np.array([scene.wall_reflectance, scene.ground_reflectance]),
    )


def _without_what_stands_over(walls: Walls, eye_m: float) -> Walls:
    """The walls but those of buildings that hold the eye: only a roof that was noted counts there."""
    low = walls.only(walls.bottom_m <= eye_m)
    while (over := building_over(low)) is not None:
        walls, low = walls.only(walls.building != over), low.only(low.building != over)
    return walls


def _answers(view: View, facet: Ints, links: Exchange) -> tuple[Floats, Floats]:
    """`sky` and `bounced` of Coefficients. facet: (h,) of each ray that meets a surface."""
    sent = links.reflectance.astype(np.float32)
    direct = _seen_facets(view, facet, len(sent)) * (sent / np.pi)
    apart = np.eye(len(sent), dtype=np.float32) - links.between * sent
    answer = np.linalg.solve(apart.T, direct.T).T
    sky = _seen_sky(view)
    sky[: len(answer)] += answer @ links.sky
    answer[UP + 1 :] -= direct[UP + 1 :]
    return sky, np.ascontiguousarray(answer)


def _seen_sky(view: View) -> Floats:
    """(9 + 3 STRIPS, PATCHES) projected solid angle on planes and share of strips, of each patch in sight."""
    ray = np.flatnonzero(view.surface == SKY)
    patch = patch_of(view.azimuth_deg[ray], view.elevation_deg[ray])
    return _seen(view, ray, patch, (UP + 1 + 3 * STRIPS, PATCHES))


def _seen_facets(view: View, facet: Ints, facets: int) -> Floats:
    """(9 + 2 STRIPS, q) projected solid angle on planes and share of strips, of each facet in sight."""
    return _seen(view, view.hit, facet, (UP + 1 + 2 * STRIPS, facets))


def _seen(view: View, ray: Ints, what: Ints, shape: tuple[int, int]) -> Floats:
    seen = np.zeros(shape, np.float32)
    on_planes = view.on_planes_sr[ray] * view.through[ray, None]
    for plane in range(UP + 1):
        seen[plane] = np.bincount(what, on_planes[:, plane], shape[1])
    row = UP + 1 + view.made_of[ray] * STRIPS + view.strip[ray]
    np.add.at(seen, (row, what), (view.strip_share * view.through)[ray])
    return seen


def _made_of(view: View) -> Floats:
    """(4, STRIPS) share of each strip that is wall, ground, sky, leaves."""
    kinds = np.stack([view.made_of == kind for kind in (WALL, GROUND, OPEN)], axis=1) * view.through[:, None]
    return view.by_strip(np.column_stack([kinds, 1.0 - view.through]) * view.strip_share[:, None]).T


class SunPoints(NamedTuple):
    """(k,) facet, share of the facet, strip and share of the strip of points at which the sun is looked for."""

    facet: Ints
    share: Floats
    strip: Ints
    weight: Floats
    point_m: Floats


def _sun_points(view: View, facet: Ints, links: Exchange) -> SunPoints:
    """All that is met in the backdrop, some of the rest, at least one of each facet, and points of the unseen ones."""
    chosen = (view.strip_share[view.hit] > 0) | (view.hit % EVERY == 0)
    chosen[np.unique(facet, return_index=True)[1]] = True
    ray, facet = view.hit[chosen], np.concatenate([facet[chosen], links.sun_facet])
    unseen = np.zeros(len(links.sun_facet))
    fills = np.concatenate([view.solid_angle_sr[ray], unseen + 1.0])
    return SunPoints(
        facet=facet,
        share=fills / np.bincount(facet, fills)[facet],
        strip=np.concatenate([view.strip[ray], unseen.astype(np.intp)]),
        weight=np.concatenate([(view.strip_share * view.through)[ray], unseen]),
        point_m=np.concatenate([view.point_m[ray], links.sun_point_m]),
    )
