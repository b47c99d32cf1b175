"""Visits put into rounds: no group twice in one, no post twice, in as few rounds as there can be.

Groups and posts make a bipartite graph with a visit for each edge. Its edges can be coloured with as many colours as
the busiest group or post has visits (D. König, Über Graphen und ihre Anwendung auf Determinantentheorie und
Mengenlehre, Mathematische Annalen 77, 1916, from memory). A colour is a round.
"""

from __future__ import annotations

from collections.abc import Sequence

Edge = tuple[int, int]
"""Group and post, each by a number."""


def coloured(edges: Sequence[Edge]) -> dict[Edge, int]:
    """A round from 0 for every visit; as many rounds as the most visits that any group or post has.

    Each edge takes a colour free at both ends; where none is, the path of two colours from one end changes them about.
    """
    at: dict[tuple[str, int], dict[int, Edge]] = {}
    colours: dict[Edge, int] = {}
    for edge in edges:
        ends = ("group", edge[0]), ("post", edge[1])
        here, there = (at.setdefault(end, {}) for end in ends)
        first, second = _free(here), _free(there)
        if first in there:
            _swap(at, colours, ends[1], first, second)
        colours[edge] = first
        here[first] = there[first] = edge
    return colours


def _free(taken: dict[int, Edge]) -> int:
    return next(colour for colour in range(len(taken) + 1) if colour not in taken)


def _swap(
    at: dict[tuple[str, int], dict[int, Edge]], colours: dict[Edge, int], end: tuple[str, int], first: int, second: int
) -> None:
    """Change first and second about along the path that leaves `end` by first."""
    path = []
    colour = first
    while (edge := at[end].get(colour)) is not None:
        path.append(edge)
        end = ("post", edge[1]) if end[0] == "group" else ("group", edge[0])
        colour = second if colour == first else first
    for edge in path:
        for end in (("group", edge[0]), ("post", edge[1])):
            at[end].pop(colours[edge], None)
    for edge in path:
        colours[edge] = second if colours[edge] == first else first
        for end in (("group", edge[0]), ("post", edge[1])):
            at[end][colours[edge]] = edge
