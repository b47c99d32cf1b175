from __future__ import annotations

from models.workshop.replan import replan, scattered
from models.workshop.rota import Post, Rota, Round, Turn, Visit
from models.workshop.rotation import plan_rota
from tests.models.workshop.rota_rules import shot_until

THREE = tuple(Post(key=key) for key in (1, 2, 3))


def groups(rota: Rota) -> list[tuple[int, ...]]:
    return [visit.members for visit in rota.rounds[0].visits]


def test_groups_that_keep_together_are_not_scattered():
    rota = plan_rota(range(15), THREE)
    assert scattered(rota, groups(rota)) == 0


def test_a_visit_of_two_groups_counts_one_and_a_group_in_two_places_one_more():
    """1 and 2 are one group, 3 and 4 the other, 5 is of none: first visit both, second visit only the second."""
    rota = Rota(THREE, (Round((Visit((1, 2, 3, 5), 1, (Turn(1),)), Visit((4,), None))),))
    assert scattered(rota, [(1, 2), (3, 4)]) == 2


def test_of_rotas_as_quick_the_one_is_taken_that_mixes_groups_less():
    """Two of fifteen gone after the first round: the first rota found, untidied, mixes them 11 times."""
    rota = plan_rota(range(1, 16), THREE)
    people = [who for who in range(1, 16) if who not in (1, 8)]
    after = replan(rota, THREE, people, shot_until(rota, (2, 1)), (2, 1))
    assert scattered(after, groups(rota)) <= 8
