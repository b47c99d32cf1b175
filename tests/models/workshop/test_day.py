from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.problems import InputProblem
from models.workshop.day import Moment, played, ways_at
from models.workshop.happening import HappeningDraft
from models.workshop.replan import replan
from models.workshop.rota import Post, Rota
from models.workshop.rotation import plan_rota
from tests.models.workshop.rota_rules import must_be_manned, must_be_sound

THREE = tuple(Post(key=key) for key in (101, 102, 103))
NINE = plan_rota(range(1, 10), THREE)
KINDS = ("not come", "came late", "left", "model left", "station lost", "station back", "spot lost", "round done")


def happening(kind, about=None, at=(1, 1)) -> HappeningDraft:
    return HappeningDraft(
        workshop_id=1, kind=kind, about=about, round=at[0], turn=at[1], at=datetime(2026, 6, 6, 18, tzinfo=UTC)
    )


def shots(moment: Moment) -> Counter[tuple[int, int]]:
    return Counter(Rota(NINE.posts, tuple(each for _, each in moment.done)).shots())


def test_without_happenings_there_is_the_first_rota():
    assert [moment.rota for moment in played(NINE, [])] == [NINE]


def test_a_round_that_is_done_leaves_the_others_as_planned():
    *_, moment = played(NINE, [happening("round done", 1)])
    assert (moment.round, moment.turn) == (2, 1)
    assert moment.rota.rounds == NINE.rounds[1:]
    assert moment.done == ((1, NINE.rounds[0]),)
    assert len(moment.shot) == 9


def test_a_round_under_way_keeps_its_number_and_counts_its_turns_on():
    *_, moment = played(NINE, [happening("left", 4, at=(2, 2))])
    assert (moment.round, moment.turn) == (2, 2)
    assert [number for number, _ in moment.done] == [1, 2]
    assert len(moment.shot) == 9 + 3
    *_, later = played(NINE, [happening("left", 4, at=(2, 2)), happening("left", 5, at=(2, 3))])
    assert len(later.shot) == 9 + 3 + sum(visit.post is not None for visit in moment.rota.rounds[0].visits)


def test_a_turn_past_the_end_of_a_round_is_the_start_of_the_next():
    *_, moment = played(NINE, [happening("left", 4, at=(1, 4))])
    assert (moment.round, moment.turn) == (2, 1)


def test_a_round_past_the_end_is_the_end():
    *_, moment = played(NINE, [happening("left", 4, at=(9, 1))])
    assert (moment.round, moment.turn) == (4, 1)
    assert moment.rota.rounds == ()
    assert len(moment.shot) == 27


def test_two_who_do_not_come_are_planned_for_together():
    one_by_one = played(NINE, [happening("not come", 1), happening("not come", 2)])
    *_, moment = one_by_one
    assert moment.people == (3, 4, 5, 6, 7, 8, 9)
    assert moment.followed == NINE
    assert one_by_one[1].people == (2, 3, 4, 5, 6, 7, 8, 9)


def test_where_hands_are_short_after_a_happening_there_are_ways_out():
    start, *_, moment = played(NINE, [happening("left", who, at=(2, 2)) for who in (3, 6, 9)])
    shared, *_, lent = ways_at(moment)
    assert ways_at(start) == ()
    assert shared.rota == moment.rota
    assert (lent.kind, lent.turns < shared.turns) == ("lend", True)


def test_whoever_did_not_come_may_come_late_and_shoots_everywhere():
    *_, moment = played(NINE, [happening("not come", 1), happening("came late", 1, at=(2, 1))])
    assert {post for person, post in moment.rota.shots() if person == 1} == {101, 102, 103}


def test_a_model_takes_its_stations_along_and_one_comes_back():
    *_, without, again = played(
        NINE, [happening("model left", 50, at=(2, 1)), happening("station back", 102, at=(3, 1))], {50: (101, 102)}
    )
    assert [post.key for post in without.posts] == [103]
    assert [post.key for post in again.posts] == [102, 103]


def test_a_lost_spot_breaks_off_what_is_under_way_and_everything_owed_is_still_to_come():
    *_, moment = played(NINE, [happening("spot lost", at=(2, 2))])
    assert (moment.round, moment.turn) == (3, 1)
    assert len(moment.shot) == 12
    assert Counter(moment.rota.shots()) + Counter(moment.shot) == Counter(NINE.shots())


def test_what_was_broken_off_stays_so_when_somebody_leaves_then_too():
    *_, moment = played(NINE, [happening("spot lost", at=(2, 2)), happening("left", 4, at=(2, 2))])
    people = [who for who in range(1, 10) if who != 4]
    assert moment.rota == replan(NINE, THREE, people, moment.shot, (2, 1))


def test_less_shot_than_was_said_before_takes_nothing_back():
    *_, moment = played(NINE, [happening("round done", 2), happening("left", 4, at=(1, 2))])
    assert (moment.round, len(moment.shot)) == (3, 18)


def test_a_station_back_that_nobody_knows_is_named():
    with pytest.raises(InputProblem) as caught:
        played(NINE, [happening("station back", 9)])
    assert caught.value.field == "about"


happenings = st.builds(
    happening,
    st.sampled_from(KINDS),
    st.sampled_from([1, 2, 3, 4, 5, 9, 20, 21, 50, 101, 102, 103]),
    st.tuples(st.integers(1, 6), st.integers(1, 4)),
)


@settings(max_examples=30, deadline=None)
@given(
    st.lists(happenings, max_size=6).filter(lambda each: all(h.kind != "station back" or h.about > 100 for h in each))
)
def test_whatever_happens_everyone_shoots_once_at_each_station_in_all(day):
    known = set(range(1, 10))
    for moment in played(NINE, day, {50: (101,)}):
        assert max(shots(moment).values(), default=1) == 1
        assert set(shots(moment)) == moment.shot
        owed = Counter(
            (who, post.key) for who in moment.people for post in moment.posts if (who, post.key) not in moment.shot
        )
        if moment.rota.rounds or moment.posts:
            must_be_sound(moment.rota, moment.people, owed)
        must_be_manned(moment.rota, len(moment.people))
        known |= set(moment.people)
    assert known <= {*range(1, 10), 20, 21, 50, 101, 102, 103}
