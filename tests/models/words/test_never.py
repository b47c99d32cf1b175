"""Wording that may not be said is caught, and honest wording is not."""

from __future__ import annotations

from itertools import chain
from pathlib import Path

import pytest

from models.rules.rule import FOUND
from models.words.never import forbidden_in
from tests.models.words.strings import strings_of, text_of

ROOT = Path(__file__).parents[3]
PAGES = ("rules", "workshops", "stations", "enquiries", "papers", "deadlines", "briefing")

BAD = """
Stands are allowed here.
This is not allowed.
Groups of up to ten are legal here.
You can legally stand here.
A lawful place to work.
It is OK to shoot here.
Okay for nine people.
All OK.
Tripods are permitted here.
The area is permitted for models.
Permitted on Saturdays.
The by-law permits stands here.
The office permits you to stay.
Flash is permissible after dark.
You may shoot here until nine.
You may set up a stand.
You can shoot here.
You can now set up.
We can place a stand.
You are free to shoot.
Feel free to begin.
No permission needed.
No permission is needed for nine people.
No permit required.
A hand-held stand needs no permission.
Groups under ten require no permit.
Permission is not needed.
Permission not required for hand-held stands.
Nine people do not need permission.
One stand doesn’t need a permit.
You need not have permission.
You can work without a permit.
You have permission.
It is fine to stand here.
Hand-held is fine.
That is all right.
Good to go.
Cleared for Saturday.
You are clear to begin.
It is safe to set up.
Go ahead.
Green light from the council.
The street is open to film in.
Approved for nine people.
Authorised until ten.
Authorized until ten.
You are entitled to the pavement.
Unrestricted after six.
No restrictions found.
There is no objection.
No need to ask.
There is nobody to ask.
You need not ask the guard.
Begin without asking.
You have the right to stand here.
That is within your rights.
YOU   MAY
stand here.
""".strip().replace("YOU   MAY\nstand", "YOU   MAY stand")
GOOD = """
Recorded as not permitted.
Refused on Monday 1 June 2026.
Stands are not permitted.
Tripods may not be permitted.
It is no longer permitted.
Recorded as permitted on Monday 12 January 2026: confirm.
Recorded as permitted with conditions.
Permission needed: ask by Friday 3 July 2026.
Permission needed, and the day to ask by has passed.
3 stands need permission.
Not checked: ask.
Granted, and it covers this: reference R 12. Carry it.
Ten clear working days before.
You may need permission from the harbour office.
You may not stand here.
Ask for permission in writing.
Local codes and licensed practice decide; this is a record of what was asked.
1.5 m of footway stays clear.
Keep the footway clear to walkers.
The rights of the pictures stay with the models.
The illegal part of it was refused.
Look up whether permission is needed.
You can change or remove this record.
Asked, no answer yet.
Take it up with the guard.
"""


@pytest.mark.parametrize("text", [line for line in BAD.splitlines() if line])
def test_permission_in_any_words_is_caught(text):
    assert forbidden_in(text)
    assert forbidden_in(f"Saturday 17:00. {text.upper()} Carry it.")


@pytest.mark.parametrize("text", [line for line in GOOD.splitlines() if line])
def test_a_record_of_what_was_asked_is_not_caught(text):
    assert forbidden_in(text) == []


def test_what_is_caught_is_named():
    assert forbidden_in("You may shoot: it is permitted.") == ["permitted", "you may"]
    assert forbidden_in("") == []


def test_line_breaks_and_typed_apostrophes_hide_nothing():
    assert forbidden_in("no permission\n   needed") == ["no permission needed"]
    assert forbidden_in("It doesn’t need a permit")


def test_no_page_says_that_something_may_be_done():
    """Every template of the program, and every string of the modules that fill those about rules."""
    templates = sorted((ROOT / "webapp").rglob("*.html"))
    assert any(path.parent.parent.name == "rules" for path in templates)
    assert {path.name: found for path in templates if (found := forbidden_in(text_of(path.read_text("utf-8"))))} == {}
    folders = [
        ROOT / "models/planning/rules",
        ROOT / "models/planning/briefing",
        *(ROOT / "webapp" / page for page in PAGES),
    ]
    modules = sorted(chain.from_iterable(folder.rglob("*.py") for folder in folders))
    assert modules
    texts = [(path.name, text) for path in modules for text in strings_of(path.read_text("utf-8"))]
    assert [(name, text) for name, text in texts if forbidden_in(text) and text not in FOUND] == []


def test_what_a_template_says_is_seen():
    assert forbidden_in(text_of("<p>{# allowed #}{{ rule.allowed }} You\n  <b>may</b> shoot</p>")) == ["you may"]
    assert forbidden_in(" ".join(strings_of("x = f'{name} is cleared'"))) == ["cleared"]
    assert strings_of('"""Allowed."""\ndef f():\n    "Legal."\n    return "note"') == ["note"]
