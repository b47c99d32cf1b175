"""Working days and lead times, held against calendars worked out by hand.

Holidays as published: Netherlands, list of the national government (rijksoverheid.nl, feestdagen; Good Friday is on it,
though no law makes it a day off); England, gov.uk/bank-holidays; Berlin, Gesetz über die Sonn- und Feiertage. All from
memory of those lists. Each line is a day going back from the workshop: a number for the working days in turn, else why
nobody works. With N clear working days between, the day to ask by is the one numbered N + 1.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.problems import InputProblem
from models.rules.working_days import ask_by, calendar_of

SATURDAY_IN_JULY = """
Fri 17 Jul 1 | Thu 16 Jul 2 | Wed 15 Jul 3 | Tue 14 Jul 4 | Mon 13 Jul 5 | Sun 12 Jul - | Sat 11 Jul -
Fri 10 Jul 6 | Thu 9 Jul 7 | Wed 8 Jul 8 | Tue 7 Jul 9 | Mon 6 Jul 10 | Sun 5 Jul - | Sat 4 Jul - | Fri 3 Jul 11
"""
EASTER = """
Fri 10 Apr 1 | Thu 9 Apr 2 | Wed 8 Apr 3 | Tue 7 Apr 4 | Mon 6 Apr Easter Monday | Sun 5 Apr - | Sat 4 Apr -
Fri 3 Apr Good Friday | Thu 2 Apr 5 | Wed 1 Apr 6 | Tue 31 Mar 7 | Mon 30 Mar 8 | Sun 29 Mar - | Sat 28 Mar -
Fri 27 Mar 9 | Thu 26 Mar 10 | Wed 25 Mar 11 | Tue 24 Mar 12
"""
EASTER_WITHOUT = """
Fri 10 Apr 1 | Thu 9 Apr 2 | Wed 8 Apr 3 | Tue 7 Apr 4 | Mon 6 Apr 5 | Sun 5 Apr - | Sat 4 Apr - | Fri 3 Apr 6
Thu 2 Apr 7 | Wed 1 Apr 8
"""
MAY_NL = """
Fri 8 May 1 | Thu 7 May 2 | Wed 6 May 3 | Tue 5 May 4 | Mon 4 May 5 | Sun 3 May - | Sat 2 May - | Fri 1 May 6
Thu 30 Apr 7 | Wed 29 Apr 8 | Tue 28 Apr 9 | Mon 27 Apr King's Day | Sun 26 Apr - | Sat 25 Apr - | Fri 24 Apr 10
"""
MAY_BERLIN = """
Fri 8 May 1 | Thu 7 May 2 | Wed 6 May 3 | Tue 5 May 4 | Mon 4 May 5 | Sun 3 May - | Sat 2 May - | Fri 1 May Labour Day
Thu 30 Apr 6 | Wed 29 Apr 7 | Tue 28 Apr 8 | Mon 27 Apr 9
"""
MAY_ENGLAND = """
Fri 8 May 1 | Thu 7 May 2 | Wed 6 May 3 | Tue 5 May 4 | Mon 4 May bank holiday | Sun 3 May - | Sat 2 May - | Fri 1 May 5
Thu 30 Apr 6 | Wed 29 Apr 7 | Tue 28 Apr 8 | Mon 27 Apr 9
"""
YEAR_END_NL = """
Fri 1 Jan 2027 New Year | Thu 31 Dec 1 | Wed 30 Dec 2 | Tue 29 Dec 3 | Mon 28 Dec 4 | Sun 27 Dec -
Sat 26 Dec Second Christmas Day | Fri 25 Dec Christmas Day | Thu 24 Dec 5 | Wed 23 Dec 6 | Tue 22 Dec 7 | Mon 21 Dec 8
Sun 20 Dec - | Sat 19 Dec - | Fri 18 Dec 9 | Thu 17 Dec 10 | Wed 16 Dec 11
"""
YEAR_END_ENGLAND = """
Fri 1 Jan 2027 New Year | Thu 31 Dec 1 | Wed 30 Dec 2 | Tue 29 Dec 3 | Mon 28 Dec for Boxing Day on a Saturday
Sun 27 Dec - | Sat 26 Dec Boxing Day | Fri 25 Dec Christmas Day | Thu 24 Dec 4 | Wed 23 Dec 5 | Tue 22 Dec 6
Mon 21 Dec 7 | Sun 20 Dec - | Sat 19 Dec - | Fri 18 Dec 8 | Thu 17 Dec 9 | Wed 16 Dec 10 | Tue 15 Dec 11
"""
NEXT_YEAR_END_ENGLAND = """
Tue 4 Jan 2028 1 | Mon 3 Jan 2028 for New Year on a Saturday | Sun 2 Jan 2028 - | Sat 1 Jan 2028 New Year
Fri 31 Dec 2027 2 | Thu 30 Dec 2027 3 | Wed 29 Dec 2027 4 | Tue 28 Dec 2027 for Boxing Day on a Sunday
Mon 27 Dec 2027 for Christmas Day on a Saturday | Sun 26 Dec 2027 Boxing Day | Sat 25 Dec 2027 Christmas Day
Fri 24 Dec 2027 5 | Thu 23 Dec 2027 6 | Wed 22 Dec 2027 7
"""
NEXT_YEAR_END_OTHERS = """
Tue 4 Jan 2028 1 | Mon 3 Jan 2028 2 | Sun 2 Jan 2028 - | Sat 1 Jan 2028 New Year | Fri 31 Dec 2027 3 | Thu 30 Dec 2027 4
Wed 29 Dec 2027 5 | Tue 28 Dec 2027 6 | Mon 27 Dec 2027 7 | Sun 26 Dec 2027 - | Sat 25 Dec 2027 - | Fri 24 Dec 2027 8
"""
BY_HAND = [
    *((place, date(2026, 7, 18), SATURDAY_IN_JULY) for place in ("", "NL", "DE-BE", "GB-ENG")),
    *((place, date(2026, 4, 11), EASTER) for place in ("NL", "DE-BE", "GB-ENG")),
    ("", date(2026, 4, 11), EASTER_WITHOUT),
    ("NL", date(2026, 5, 9), MAY_NL),
    ("DE-BE", date(2026, 5, 9), MAY_BERLIN),
    ("GB-ENG", date(2026, 5, 9), MAY_ENGLAND),
    *((place, date(2027, 1, 2), YEAR_END_NL) for place in ("NL", "DE-BE")),
    ("GB-ENG", date(2027, 1, 2), YEAR_END_ENGLAND),
    ("GB-ENG", date(2028, 1, 5), NEXT_YEAR_END_ENGLAND),
    *((place, date(2028, 1, 5), NEXT_YEAR_END_OTHERS) for place in ("NL", "DE-BE")),
]
PLACES = st.sampled_from(["", "NL", "DE-BE", "GB-ENG", "IL", "US-CA"])
DAYS = st.dates(date(2024, 1, 1), date(2030, 12, 31))


def lines(listing: str, year: int) -> list[tuple[date, str]]:
    """The days of a listing with what is written beside them; each must carry the weekday that it has."""
    read = []
    for line in listing.replace("\n", "|").split("|"):
        if line.strip():
            weekday, day, month, *rest = line.split()
            on = year if not (rest and len(rest[0]) == 4 and rest[0].isdecimal()) else int(rest.pop(0))
            found = datetime.strptime(f"{day} {month} {on}", "%d %b %Y").date()  # noqa: DTZ007  a day, no instant
            assert f"{found:%a}" == weekday, line
            read.append((found, " ".join(rest)))
    return read


@pytest.mark.parametrize(("place", "day", "listing"), BY_HAND)
def test_lead_times_against_calendars_worked_out_by_hand(place, day, listing):
    calendar, listed = calendar_of(place), lines(listing, 2026)
    assert [found for found, _ in listed] == [day - timedelta(days=k) for k in range(1, len(listed) + 1)]
    assert [calendar.is_working(found) for found, _ in listed] == [words.isdecimal() for _, words in listed]
    numbered = [found for found, words in listed if words.isdecimal()]
    for lead, by in enumerate(numbered):
        assert ask_by(day, lead, calendar, working=True) == by, lead


def test_ten_clear_working_days_before_saturday_18_july_2026_is_friday_3_july():
    """Worked out by hand; a day earlier or later moves it only over working days."""
    calendar = calendar_of("NL")
    days = {
        16: date(2026, 7, 1),
        17: date(2026, 7, 2),
        18: date(2026, 7, 3),
        19: date(2026, 7, 3),
        20: date(2026, 7, 3),
    }
    days[21] = date(2026, 7, 6)
    for day, by in days.items():
        assert ask_by(date(2026, 7, day), 10, calendar, working=True) == by, day


@pytest.mark.parametrize(
    ("place", "day", "lead", "by"),
    [
        ("NL", date(2026, 4, 11), 14, date(2026, 3, 27)),  # 28 March to 10 April lie between; a Friday
        ("NL", date(2026, 4, 20), 14, date(2026, 4, 2)),  # counted to Easter Sunday, back over Good Friday to Thursday
        ("DE-BE", date(2026, 4, 20), 14, date(2026, 4, 2)),
        ("GB-ENG", date(2026, 4, 20), 14, date(2026, 4, 2)),
        ("", date(2026, 4, 20), 14, date(2026, 4, 3)),
        ("GB-ENG", date(2027, 1, 12), 14, date(2026, 12, 24)),  # Monday 28 December stands in for Boxing Day
        ("NL", date(2027, 1, 12), 14, date(2026, 12, 28)),
        ("", date(2026, 7, 18), 0, date(2026, 7, 17)),
    ],
)
def test_days_of_the_calendar_end_on_the_last_working_day_on_or_before(place, day, lead, by):
    assert ask_by(day, lead, calendar_of(place), working=False) == by


@given(PLACES, DAYS, st.integers(0, 40), st.booleans())
def test_it_is_the_last_working_day_that_leaves_the_days_clear(place, day, lead, working):
    calendar = calendar_of(place)

    def clear(since: date) -> int:
        between = [since + timedelta(days=k) for k in range(1, (day - since).days)]
        return sum(calendar.is_working(one) for one in between) if working else len(between)

    by = ask_by(day, lead, calendar, working=working)
    assert calendar.is_working(by)
    assert clear(by) >= lead
    later = [by + timedelta(days=k) for k in range(1, (day - by).days)]
    assert not any(calendar.is_working(one) and clear(one) >= lead for one in later)


@given(PLACES, DAYS, st.integers(0, 40), st.booleans())
def test_a_longer_lead_is_never_asked_later(place, day, lead, working):
    calendar = calendar_of(place)
    assert ask_by(day, lead + 1, calendar, working=working) <= ask_by(day, lead, calendar, working=working) < day


def test_a_weekend_is_the_place_s_own():
    """Friday and Saturday in Israel; from memory."""
    friday, sunday = date(2026, 7, 17), date(2026, 7, 19)
    assert [calendar_of("IL").is_working(day) for day in (friday, sunday)] == [False, True]
    assert [calendar_of("").is_working(day) for day in (friday, sunday)] == [True, False]


@pytest.mark.parametrize(
    "place", ["nl", "XX", "NL-", "-", "NL-XX", " NL", "HolidayBase", "N" * 10_000, "DE-BE-X", "??"]
)
def test_an_unknown_place_is_refused_by_name(place):
    with pytest.raises(InputProblem) as met:
        calendar_of(place)
    assert met.value.field == "holidays"
    assert place[:10] in met.value.message
    assert len(met.value.message) < 200


def test_a_calendar_says_what_it_rests_on():
    assert calendar_of("DE-BE").words == "working days by the holidays of DE-BE"
    assert calendar_of("").words == "working days by weekends only; no holidays set"
    assert calendar_of("DE-BE") is calendar_of("DE-BE")


def test_a_lead_time_that_cannot_be_is_an_error():
    with pytest.raises(ValueError, match="-1 clear days"):
        ask_by(date(2026, 7, 18), -1, calendar_of(""), working=True)
