"""The shortest way along footways.

a ---+---- b        ways meet where they share a point, and where the end of one comes within JOIN_M of another;
     |              ways that only cross (a bridge, or streets drawn by hand) meet if the caller says so
     c

networkx, which takes a fifth of a second to load, is loaded when the first way is asked for.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from models.street.plane import LocalPlane
from models.street.rings import Floats, Whole
from models.street.town import FootwayDraft, LonLat

if TYPE_CHECKING:
    import networkx as nx

JOIN_M = 3.0
"""A way that ends so near another one meets it: common practice, no source."""
REACH_M = 80.0
"""From a point to the nearest footway, across a square or through a door: our planning rule."""
GRID_M = 0.1
"""Points so near each other are one."""
STAIRS = "steps"
OFF = -1

Geometries = NDArray[np.object_]


@dataclass(frozen=True, slots=True)
class Way:
    """A way found. off_m: straight from the start to the first footway and from the last to the goal, in distance_m
    too. stairs: flights on it. line: (longitude_deg, latitude_deg) from start to goal."""

    distance_m: float
    off_m: float
    stairs: int
    line: tuple[LonLat, ...]


def shortest_way(
    footways: Sequence[FootwayDraft],
    start: tuple[float, float],
    goal: tuple[float, float],
    *,
    by_hand: bool = False,
) -> Way | None:
    """The shortest way from start to goal, each (latitude_deg, longitude_deg); None where no footways lead there.

    by_hand: whether the ways were drawn without shared points. Distances are those of the plane that touches the earth
    at the start: within 0.1 % at city scale.
    """
    import networkx as nx

    plane = LocalPlane(*start)
    ways = [way for way in footways if len(way.line) > 1]
    if not ways:
        return None
    lines, ends = _lines(plane, ways), _metres(plane, [start[::-1], goal[::-1]])
    tree = shapely.STRtree(lines)
    (_, nearest), off_m = tree.query_nearest(shapely.points(ends), return_distance=True, all_matches=False)
    if (off_m > REACH_M).any():
        return None
    meetings = [_joins(lines, tree), _crossings(lines, tree)] if by_hand else []
    cuts = _together([_vertices(lines), *meetings, _feet(lines, nearest, ends)])
    net = _net(cuts, ends, off_m)
    try:
        nodes = nx.shortest_path(net.graph, *net.ends, weight="distance_m")
    except nx.NetworkXNoPath:
        return None
    return _way(net, nodes, plane, [way.kind == STAIRS for way in ways])


class _Cuts(NamedTuple):
    """Where nodes lie on lines: which line (n,), how far along it (n,), and the node's place (n, 2), metres."""

    line: Whole
    along_m: Floats
    place: Floats


class _Net(NamedTuple):
    """A graph of edges with distance_m and the index of their way (OFF for none); the place of each node, (k, 2); the
    nodes of start and goal."""

    graph: nx.Graph
    places: Floats
    ends: tuple[int, int]


def _metres(plane: LocalPlane, points: Sequence[LonLat]) -> Floats:
    longitude, latitude = np.array(points, float).T
    return np.column_stack(plane.to_metres(latitude, longitude))


def _lines(plane: LocalPlane, ways: Sequence[FootwayDraft]) -> Geometries:
    points = _metres(plane, [point for way in ways for point in way.line])
    lines: Geometries = shapely.linestrings(
        points, indices=np.repeat(range(len(ways)), [len(way.line) for way in ways])
    )
    return lines


def _vertices(lines: Geometries) -> _Cuts:
    places, line = shapely.get_coordinates(lines, return_index=True)
    first = np.flatnonzero(np.diff(line, prepend=-1))
    so_far = np.hypot(*np.diff(places, axis=0, prepend=places[:1]).T).cumsum()
    return _Cuts(line, so_far - so_far[first][line], places)


def _joins(lines: Geometries, tree: shapely.STRtree) -> _Cuts:
    """The ends of ways cut the other ways that they come near."""
    tips = np.column_stack([shapely.get_point(lines, 0), shapely.get_point(lines, -1)]).ravel()
    tip, line = tree.query(tips, predicate="dwithin", distance=JOIN_M)
    tip, line = tip[tip // 2 != line], line[tip // 2 != line]
    return _cut(lines, line, shapely.get_coordinates(tips[tip]))


def _crossings(lines: Geometries, tree: shapely.STRtree) -> _Cuts:
    """Two ways that cross cut each other."""
    one, other = tree.query(lines, predicate="intersects")
    one, other = one[one < other], other[one < other]
    places, pair = shapely.get_coordinates(shapely.intersection(lines[one], lines[other]), return_index=True)
    return _together([_cut(lines, line[pair], places) for line in (one, other)])


def _feet(lines: Geometries, nearest: Whole, ends: Floats) -> _Cuts:
    """Start and goal cut the way that is nearest to each."""
    along_m = shapely.line_locate_point(lines[nearest], shapely.points(ends))
    return _Cuts(nearest, along_m, shapely.get_coordinates(shapely.line_interpolate_point(lines[nearest], along_m)))


def _cut(lines: Geometries, line: Whole, places: Floats) -> _Cuts:
    return _Cuts(line, shapely.line_locate_point(lines[line], shapely.points(places)), places)


def _together(cuts: Sequence[_Cuts]) -> _Cuts:
    return _Cuts(*(np.concatenate(parts) for parts in zip(*cuts, strict=True)))


def _net(cuts: _Cuts, ends: Floats, off_m: Floats) -> _Net:
    """Edges along every line from cut to cut, the shortest where two join the same nodes.

    The last two cuts are the feet of start and goal.
    """
    import networkx as nx

    cells, node = np.unique(np.round(np.vstack([cuts.place, ends]) / GRID_M), axis=0, return_inverse=True)
    start, goal = node[-2:].tolist()
    order = np.lexsort((cuts.along_m, cuts.line))
    line, here, there = cuts.line[order][1:], node[order][:-1], node[order][1:]
    same, lengths_m = line == cuts.line[order][:-1], np.diff(cuts.along_m[order])
    columns = [
        np.concatenate([(start, goal), here[same]]),
        np.concatenate([node[-4:-2], there[same]]),
        np.concatenate([off_m, lengths_m[same]]),
        np.concatenate([(OFF, OFF), line[same]]),
    ]
    longest_first = np.argsort(-columns[2])
    graph = nx.Graph()
    graph.add_edges_from(
        (a, b, {"distance_m": metres, "way": way})
        for a, b, metres, way in zip(*(column[longest_first].tolist() for column in columns), strict=True)
    )
    return _Net(graph, cells * GRID_M, (start, goal))


def _way(net: _Net, nodes: list[int], plane: LocalPlane, stairs: Sequence[bool]) -> Way:
    edges = [net.graph.edges[pair] for pair in pairwise(nodes)]
    off_m = sum((edge["distance_m"] for edge in edges if edge["way"] == OFF), 0.0)
    walked = [edge["way"] for edge in edges if edge["way"] != OFF and edge["distance_m"] > GRID_M]
    flights = sum(stairs[way] for way, _ in groupby(walked))
    latitude, longitude = plane.to_degrees(*net.places[nodes].T)
    line = tuple(zip(longitude.tolist(), latitude.tolist(), strict=True))
    return Way(sum((edge["distance_m"] for edge in edges), 0.0), off_m, flights, line)
