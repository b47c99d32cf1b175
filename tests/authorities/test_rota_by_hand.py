"""Rotas worked by hand on paper, for three to nine people at three stations A, B and C, and some cases beside.

How it is done by hand, common practice, no source: people in the order of the list, the larger group first. Group 1
starts at A, group 2 at B; each goes on to the next letter. In a group whoever shot first at one station goes
last at the next, so that round 2 is opened by the second of the group. Round the ring from the shooter: next up, if
there is anybody beside the hands; then the light; then the pavement. The last one of a visit has nobody next up.

A turn is written shooter, light, watch; then > and who is next up. Each station takes one light holder and one watcher.

The cyclic square: row i, column j holds i + j modulo n, the table of addition modulo n, which is a Latin square
(standard combinatorics): every station once in each row, which is a round, and in each column, which is a group.
"""

from __future__ import annotations

import pytest

from models.workshop.replan import replan
from models.workshop.rota import Post, Rota, Turn, Visit
from models.workshop.rotation import plan_rota, time_of

STATIONS = "ABC"

THREE_PEOPLE = """
round 1   A 1 2 3   2 3 1   3 1 2
round 2   B 2 3 1   3 1 2   1 2 3
round 3   C 3 1 2   1 2 3   2 3 1
"""
FOUR_PEOPLE = """
round 1   A 1 3 4 > 2   2 4 1 > 3   3 1 2 > 4   4 2 3
round 2   B 2 4 1 > 3   3 1 2 > 4   4 2 3 > 1   1 3 4
round 3   C 3 1 2 > 4   4 2 3 > 1   1 3 4 > 2   2 4 1
"""
FIVE_PEOPLE = """
round 1   A 1 3 4 > 2   2 4 5 > 3   3 5 1 > 4   4 1 2 > 5   5 2 3
round 2   B 2 4 5 > 3   3 5 1 > 4   4 1 2 > 5   5 2 3 > 1   1 3 4
round 3   C 3 5 1 > 4   4 1 2 > 5   5 2 3 > 1   1 3 4 > 2   2 4 5
"""
SIX_PEOPLE = """
round 1   A 1 2 3   2 3 1   3 1 2
          B 4 5 6   5 6 4   6 4 5
round 2   B 2 3 1   3 1 2   1 2 3
          C 5 6 4   6 4 5   4 5 6
round 3   C 3 1 2   1 2 3   2 3 1
          A 6 4 5   4 5 6   5 6 4
"""
SEVEN_PEOPLE = """
round 1   A 1 3 4 > 2   2 4 1 > 3   3 1 2 > 4   4 2 3
          B 5 6 7       6 7 5       7 5 6
round 2   B 2 4 1 > 3   3 1 2 > 4   4 2 3 > 1   1 3 4
          C 6 7 5       7 5 6       5 6 7
round 3   C 3 1 2 > 4   4 2 3 > 1   1 3 4 > 2   2 4 1
          A 7 5 6       5 6 7       6 7 5
"""
EIGHT_PEOPLE = """
round 1   A 1 3 4 > 2   2 4 1 > 3   3 1 2 > 4   4 2 3
          B 5 7 8 > 6   6 8 5 > 7   7 5 6 > 8   8 6 7
round 2   B 2 4 1 > 3   3 1 2 > 4   4 2 3 > 1   1 3 4
          C 6 8 5 > 7   7 5 6 > 8   8 6 7 > 5   5 7 8
round 3   C 3 1 2 > 4   4 2 3 > 1   1 3 4 > 2   2 4 1
          A 7 5 6 > 8   8 6 7 > 5   5 7 8 > 6   6 8 5
"""
NINE_PEOPLE = """
round 1   A 1 2 3   2 3 1   3 1 2
          B 4 5 6   5 6 4   6 4 5
          C 7 8 9   8 9 7   9 7 8
round 2   B 2 3 1   3 1 2   1 2 3
          C 5 6 4   6 4 5   4 5 6
          A 8 9 7   9 7 8   7 8 9
round 3   C 3 1 2   1 2 3   2 3 1
          A 6 4 5   4 5 6   5 6 4
          B 9 7 8   7 8 9   8 9 7
"""
NINE_PEOPLE_AT_TWO = """
round 1   A 1 2 3   2 3 1   3 1 2
          B 4 5 6   5 6 4   6 4 5
          rest 7 8 9
round 2   B 2 3 1   3 1 2   1 2 3
          rest 4 5 6
          A 7 8 9   8 9 7   9 7 8
round 3   rest 1 2 3
          A 5 6 4   6 4 5   4 5 6
          B 8 9 7   9 7 8   7 8 9
"""
WITHOUT_C_FROM_ROUND_TWO = """
round 1   B 1 2 3
          A 7 8 9
          rest 4 5 6
round 2   A 4 5 6
          B 7 8 9
          rest 1 2 3
"""
"""C is lost when round 1 of nine people is done. Group 1 was at A and owes B, group 2 was at B and owes A, group 3 was
at C and owes both. Round 2 can go on as it was planned, only group 2 rests; in round 3 group 2 still goes to A as
planned, and group 3 to B."""


def posts(count: int) -> tuple[Post, ...]:
    return tuple(Post(key=key) for key in range(count))


def turn_said(turn: Turn) -> str:
    said = [turn.shooter, *turn.light, *turn.watch]
    return " ".join(map(str, said)) + ("" if turn.next_up is None else f" > {turn.next_up}")


def visit_said(visit: Visit) -> str:
    if visit.post is None:
        return "rest " + " ".join(map(str, visit.members))
    return f"{STATIONS[visit.post]} " + " ".join(map(turn_said, visit.turns))


def said(rota: Rota) -> list[set[str]]:
    """Of each round the lines, in any order."""
    return [{visit_said(visit) for visit in each.visits} for each in rota.rounds]


def read(table: str) -> list[set[str]]:
    rounds: list[set[str]] = []
    for line in table.strip().splitlines():
        if line.startswith("round"):
            rounds.append(set())
        rounds[-1].add(" ".join(line[len("round 1") :].split()))
    return rounds


@pytest.mark.parametrize(
    ("people", "table", "turns"),
    [
        (3, THREE_PEOPLE, 9),
        (4, FOUR_PEOPLE, 12),
        (5, FIVE_PEOPLE, 15),
        (6, SIX_PEOPLE, 9),
        (7, SEVEN_PEOPLE, 12),
        (8, EIGHT_PEOPLE, 12),
        (9, NINE_PEOPLE, 9),
    ],
)
def test_three_to_nine_people_at_three_stations(people, table, turns):
    rota = plan_rota(range(1, people + 1), posts(3))
    assert said(rota) == read(table)
    assert time_of(rota) == turns
    assert rota.short == 0


def test_nine_people_at_two_stations_rest_in_turn():
    assert said(plan_rota(range(1, 10), posts(2))) == read(NINE_PEOPLE_AT_TWO)


def test_a_station_lost_after_the_first_round():
    """Who stands where; the order within a group is open."""
    rota = plan_rota(range(1, 10), posts(3))
    shot = frozenset((turn.shooter, visit.post) for visit in rota.rounds[0].visits for turn in visit.turns)
    after = replan(rota, posts(2), range(1, 10), shot, (2, 1))
    where = [
        {
            " ".join(("rest" if visit.post is None else STATIONS[visit.post], *map(str, visit.members)))
            for visit in each.visits
        }
        for each in after.rounds
    ]
    assert where == read(WITHOUT_C_FROM_ROUND_TWO)
    assert time_of(after) == 6


@pytest.mark.parametrize("order", range(1, 9))
def test_as_many_groups_as_stations_make_the_cyclic_square(order):
    rota = plan_rota(range(3 * order), posts(order))
    square = [[visit.post for visit in each.visits] for each in rota.rounds]
    assert square == [[(row + column) % order for column in range(order)] for row in range(order)]
    for line in (*square, *zip(*square, strict=True)):
        assert sorted(line) == list(range(order))
