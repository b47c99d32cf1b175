"""Footfall as the organiser meets it: typed in a line, counted by the holidays of the place, answered for an hour."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from models.planning.street.counts import add_count, delete_count, footfall_of, get_count, restore_count
from models.planning.street.counts_form import count_form_of, new_count_form, read_count_form
from models.planning.street.counts_import import counts_file, import_counts, preview_counts
from models.planning.street.counts_page import counts_page
from models.problems import InputProblem, InputProblems
from models.store.settings import put_setting
from models.store.street import CountDraft
from models.store.versions import Missing
from tests.models.planning.grounds import HOSTILE, at, stand

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
LINE = {"number": "57", "minutes": "10", "day": "10 Oct", "clock": "17:00", "whence": "Ida", "note": ""}
SATURDAY = at("2026-10-17T15:10")


@pytest.fixture
def lane(plans):
    return stand(plans, "Lane")


def typed(plans, spot, **changes):
    return add_count(plans, read_count_form(LINE | changes, spot, NOW))


def test_the_answer_says_people_interval_and_wait(plans, lane):
    typed(plans, lane)
    page = counts_page(plans, lane.id, SATURDAY, {})
    assert page.hour.rate.people_per_h == pytest.approx(342)
    text = page.answer.text
    assert text.startswith(
        "Lane, Saturday 17 October 2026, 17:10 CEST: about 340 people an hour, 80 % between 290 and 4"
    )
    assert "For 3 s of clear line to the model you wait" in text
    q, t = 342 / 1.5 / 3600, 3.0
    adams = (2.718281828459045 ** (q * t) - 1 - q * t) / q
    assert page.hour.mean_wait_s == pytest.approx(adams, rel=1e-6)
    assert page.counted


def test_another_hour_or_kind_of_day_is_not_counted_and_says_so(plans, lane):
    typed(plans, lane)
    for moment in (at("2026-10-17T12:10"), at("2026-10-16T15:10"), at("2026-10-18T15:10")):
        page = counts_page(plans, lane.id, moment, {})
        assert not page.counted
        assert page.hour.rate is page.hour.mean_wait_s is None
        assert "not counted" in page.answer.text


def test_holidays_of_the_settings_count_as_sundays(plans, lane):
    typed(plans, lane, day="25 Dec 2025")
    christmas = at("2026-12-25T16:10")
    assert not counts_page(plans, lane.id, at("2026-12-20T16:10"), {}).counted, "no holidays known: a Thursday"
    with plans.writing() as s:
        put_setting(s, "holidays", "NL")
    assert counts_page(plans, lane.id, christmas, {}).hour.kind == "sunday"
    assert counts_page(plans, lane.id, christmas, {}).counted
    assert counts_page(plans, lane.id, at("2026-12-26T16:10"), {}).counted, "Boxing Day is a Saturday that year"
    assert list(footfall_of(plans, [lane])[0][lane.id].rates) == [("sunday", 17)]


def test_a_longer_frame_never_waits_less_and_fewer_crossing_wait_less(plans, lane):
    typed(plans, lane)
    waits = [counts_page(plans, lane.id, SATURDAY, {"gap": gap}).hour.mean_wait_s for gap in ("1", "3 s", "10 s")]
    assert waits == sorted(waits)
    half = counts_page(plans, lane.id, SATURDAY, {"cross": "half"}).hour
    assert half.mean_wait_s < waits[1]
    assert half.spoilt_share < counts_page(plans, lane.id, SATURDAY, {}).hour.spoilt_share


@pytest.mark.parametrize(
    ("name", "text"), [("gap", "0"), ("gap", "long"), ("gap", "99 s"), ("cross", "120 %"), ("cross", "x")]
)
def test_words_of_the_sentence_that_cannot_be_read_are_named(plans, lane, name, text):
    with pytest.raises(InputProblem) as problem:
        counts_page(plans, lane.id, SATURDAY, {name: text})
    assert problem.value.field == name


@pytest.mark.parametrize(
    ("field", "text"),
    [("number", ""), ("number", "many"), ("number", "-3"), ("number", "999999"), ("minutes", ""), ("minutes", "0"),
     ("minutes", "long"), ("day", ""), ("day", "someday"), ("day", "18 Oct 2026"), ("clock", ""), ("clock", "25:00"),
     ("whence", "x" * 200), ("note", "\x00")],
)  # fmt: skip
def test_each_field_that_cannot_be_read_is_named(lane, field, text):
    with pytest.raises(InputProblems) as problems:
        read_count_form(LINE | {field: text}, lane, NOW)
    assert set(problems.value.by_field) == {field}


def test_a_form_reads_back_the_same_count(plans, lane):
    for changes in ({}, {"number": "20 parties"}, {"day": "25 Oct 2025", "clock": "01:30"}, {"minutes": "7,5"}):
        kept = typed(plans, lane, **changes)
        again = read_count_form(count_form_of(kept, lane.zone), lane, NOW)
        assert again == read_count_form(LINE | changes, lane, NOW)
    assert set(new_count_form(lane, NOW)) == set(LINE)


def test_a_count_of_another_spot_is_not_found_here(plans, lane):
    kept, other = typed(plans, lane), stand(plans, "Other")
    for act in (get_count, restore_count):
        with pytest.raises(Missing):
            act(plans, other.id, kept.id)
    with pytest.raises(Missing):
        delete_count(plans, other.id, kept.id, 1, now=NOW)
    assert get_count(plans, lane.id, kept.id).number == 57


def test_a_file_is_previewed_line_by_line_then_kept_once(plans, lane):
    typed(plans, lane)
    other = stand(plans, "Quay")
    data = b"spot,starts,minutes,number\nQuay,2026-10-10 11:00,10,42\n,2026-10-10 17:00,10,57\n,2026-10-10 18:00,10,5\n"
    page = preview_counts(plans, lane.id, data, NOW)
    assert [(row.line, row.spot, row.there) for row in page.rows] == [
        (2, "Quay", False),
        (3, "Lane", True),
        (4, "Lane", False),
    ]
    assert page.answer == "2 counts can come in; 1 count there already. Nothing is kept yet."
    assert counts_page(plans, other.id, SATURDAY, {}).total == 0
    assert import_counts(plans, lane.id, data, NOW) == "2 counts brought in; 1 count there already."
    assert counts_page(plans, other.id, SATURDAY, {}).total == 1
    assert preview_counts(plans, lane.id, counts_file(plans, lane.id).encode(), NOW).new == 0


def test_with_one_line_refused_nothing_comes_in(plans, lane):
    data = (
        b"spot,starts,minutes,number\n,2026-10-10 11:00,10,42\nNowhere,2026-10-10 11:00,10,1\n,2027-01-01 11:00,10,1\n"
        b",2026-03-29 02:30,10,1\n,2025-10-26 02:30,10,1\n"
    )
    page = preview_counts(plans, lane.id, data, NOW)
    assert [where for where, _ in page.refused] == [
        "line 3, spot",
        "line 4, starts",
        "line 5, starts",
        "line 6, starts",
    ]
    with pytest.raises(InputProblem):
        import_counts(plans, lane.id, data, NOW)
    assert counts_page(plans, lane.id, SATURDAY, {}).total == 0


def test_hostile_names_are_text(plans):
    spot = stand(plans, HOSTILE.replace("\u202e", ""))
    typed(plans, spot, whence=HOSTILE[:100], note=HOSTILE)
    page = counts_page(plans, spot.id, SATURDAY, {})
    assert page.rows[0].note == HOSTILE
    assert "<img" not in page.week.wide
    assert preview_counts(plans, spot.id, counts_file(plans, spot.id).encode(), NOW + timedelta(days=1)).new == 0


def test_equal_instants_in_two_zones_are_counted_in_their_own_hours(plans, lane):
    far = stand(plans, "Far", zone="Asia/Tokyo")
    instant = datetime(2026, 10, 10, 15, 0, tzinfo=UTC)
    for spot in (lane, far):
        add_count(plans, CountDraft(spot_id=spot.id, starts=instant, minutes=10, number=5))
    found, _ = footfall_of(plans, [lane, far])
    assert list(found[lane.id].rates) == [("saturday", 17)]
    assert list(found[far.id].rates) == [("sunday", 0)]
