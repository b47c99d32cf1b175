"""Rules, papers, workshops and enquiries from TOML: read with their types, refused by the entry's name."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from pathlib import Path

import pytest

from models.exchange.bylaws import Bylaws, read_bylaws
from models.problems import InputProblem
from models.rules.footprint import Doing

AREAS = {"Old town": 3}
SPOTS = {"Foundry Lane": 7, "West Quay": 8}
RULE = (
    '[[rule]]\narea = "Old town"\nactivity = "group"\nfound = "needed"\n'
    'source_title = "By-law"\nchecked_on = 2026-09-14\n'
)
WORKSHOP = (
    '[[workshop]]\ntitle = "Dusk"\nspot = "Foundry Lane"\nfallback = "West Quay"\n'
    "starts = 2027-01-02T14:45:00+01:00\nends = 2027-01-02T17:15:00+01:00\ndoing = { group = 11, teaching = true }\n"
)


def read(path: Path, text: str) -> Bylaws:
    file = path / "bylaws.toml"
    file.write_text(text, "utf-8")
    return read_bylaws(file, areas=AREAS, spots=SPOTS)


def test_a_rule_hangs_on_its_area_by_name(tmp_path: Path) -> None:
    more = 'over = 12\nfrom_time = 08:00:00\nto_time = 18:00:00\nweekdays = ["Wed", "Sat"]\nlead_working = false\n'
    (rule,) = read(tmp_path, RULE + more).rules
    assert (rule.area_id, rule.spot_id, rule.over, rule.weekdays) == (3, None, 12, (2, 5))
    assert (rule.from_time, rule.to_time, rule.checked_on) == (time(8), time(18), date(2026, 9, 14))
    assert rule.lead_working is False


def test_a_workshop_and_its_enquiry(tmp_path: Path) -> None:
    enquiry = '[[enquiry]]\nspot = "West Quay"\nworkshop = "Dusk"\nto_whom = "Harbour"\nactivities = ["group"]\n'
    bylaws = read(tmp_path, f'holidays = "NL"\n{WORKSHOP}{enquiry}[[paper]]\nkind = "other"\ntitle = "List"\n')
    (workshop,) = bylaws.workshops
    assert (workshop.spot_id, workshop.fallback_spot_id) == (7, 8)
    assert workshop.starts == datetime(2027, 1, 2, 13, 45, tzinfo=UTC)
    assert workshop.doing == Doing(group=11)
    ((asked, title),) = bylaws.enquiries
    assert (asked.spot_id, asked.workshop_id, asked.activities, title) == (8, None, ("group",), "Dusk")
    assert (bylaws.holidays, bylaws.papers[0].title) == ("NL", "List")


@pytest.mark.parametrize(
    ("text", "field", "message"),
    [
        ("[[rule]", "file", "is not TOML"),
        ("holidays = 3", "holidays", "is not text"),
        ("colour = 1", "file", "does not know 'colour'"),
        ("rule = 3", "rule", "write [[rule]] above each"),
        ("rule = [3]", "rule", "write [[rule]] above each"),
        (f"{RULE}{RULE}colour = 1", "rule 2", "does not know 'colour'"),
        (f"{RULE}area_id = 3", "rule 1", "does not know 'area_id'"),
        (RULE.replace("Old town", "New town"), "rule 1", "there is no area 'New town'"),
        (RULE.replace('"Old town"', "3"), "rule 1", "there is no area 3"),
        (RULE.replace('found = "needed"\n', ""), "rule 1", "lacks a value that it needs"),
        (f'{RULE}weekdays = ["Caturday"]', "rule 1", "'Caturday' is no weekday"),
        (f"{RULE}weekdays = 5", "rule 1", "5 is no weekday"),
        (WORKSHOP.replace("+01:00", ""), "workshop 1", "starts needs its zone"),
        (WORKSHOP.replace("group = 11", "crowd = 11"), "workshop 1", "does not know 'crowd'"),
        (WORKSHOP.replace("{ group = 11, teaching = true }", "11"), "workshop 1", "is not a table of values"),
        (WORKSHOP.replace("West Quay", "East Quay"), "workshop 1", "there is no fallback 'East Quay'"),
        ('[[enquiry]]\nto_whom = "X"\nworkshop = 3', "workshop", "is not text"),
    ],
)
def test_what_cannot_be_read_names_its_entry(tmp_path: Path, text: str, field: str, message: str) -> None:
    with pytest.raises(InputProblem) as problem:
        read(tmp_path, text)
    assert problem.value.field == field
    assert message in problem.value.message


def test_a_missing_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(InputProblem, match="cannot be read"):
        read_bylaws(tmp_path / "none.toml", areas={}, spots={})
