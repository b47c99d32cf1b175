from __future__ import annotations

from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

from models.workshop.matching import coloured

edges = st.lists(st.tuples(st.integers(0, 12), st.integers(0, 7)), unique=True, min_size=1, max_size=60)


@settings(max_examples=60, deadline=None)
@given(edges)
def test_visits_fit_in_as_many_rounds_as_the_busiest_group_or_post_has(visits):
    rounds = coloured(visits)
    assert sorted(rounds) == sorted(visits)
    busiest = max((*Counter(group for group, _ in visits).values(), *Counter(post for _, post in visits).values()))
    assert set(rounds.values()) == set(range(busiest))
    for side in (0, 1):
        in_round = Counter((visit[side], number) for visit, number in rounds.items())
        assert max(in_round.values()) == 1


def test_nothing_to_visit_takes_no_round():
    assert coloured([]) == {}
