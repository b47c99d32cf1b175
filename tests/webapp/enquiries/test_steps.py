"""The steps of an enquiry: each that leads on is taken and told, each other refused, the last one is taken back."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest

from models.rules.answers import Answer
from models.rules.enquiry import NEXT, STATES
from models.store import rules as kept
from models.words.never import forbidden_in
from models.words.rules import STANDING_NOTE
from tests.webapp.enquiries.conftest import ASKED, ENQUIRY, GRANTED, history, keep, now_kept
from tests.webapp.filled import form_of
from tests.webapp.rules.test_findings import seen

IN_STATE = {
    "planned": ENQUIRY,
    "asked": ASKED,
    "granted": GRANTED,
    "refused": replace(GRANTED, state="refused"),
    "withdrawn": replace(ASKED, state="withdrawn"),
    "lapsed": replace(GRANTED, state="lapsed"),
}
MOVES = [(before, after) for before in STATES for after in STATES]
STEPS = "/enquiries/1/steps"


def take(client, state, **typed):
    page = client.get(f"{STEPS}/new?state={state}").text
    assert forbidden_in(seen(page)) == []
    return client.send(STEPS, form_of(page, STEPS) | typed)


@pytest.mark.parametrize(("before", "after"), [move for move in MOVES if move[1] in NEXT[move[0]]])
def test_a_step_that_leads_on_is_taken_told_and_can_be_taken_back(client, streets, before, after):
    keep(streets, IN_STATE[before])
    assert take(client, after, note="rang them").status_code == 303
    assert now_kept(streets).state == after
    assert history(streets) == [(before, ""), (after, "rang them")]
    page = client.get("/enquiries/1").text
    assert f"is now {STATES[after]}." in page
    assert "rang them" in page
    assert forbidden_in(seen(page)) == []
    assert 'action="/enquiries/1/taking-back?version=2"' in page
    assert client.send("/enquiries/1/taking-back?version=2", {}).status_code == 303
    back = now_kept(streets)
    assert replace(back, version=1) == replace(back, version=1, **vars_of(IN_STATE[before]))
    assert history(streets)[-1] == (before, f"{after} was taken back")
    assert "Take the last step back" not in client.get("/enquiries/1").text


def vars_of(draft):
    return {name: getattr(draft, name) for name in draft.__dataclass_fields__}


@pytest.mark.parametrize("before", STATES)
def test_a_step_that_leads_nowhere_is_refused(client, streets, before):
    keep(streets, IN_STATE[before])
    for after in STATES.keys() - set(NEXT[before]):
        sent = client.send(STEPS, {"state": after, "version": "1", "note": "rang them"})
        for page in (sent, client.get(f"{STEPS}/new?state={after}")):
            assert page.status_code == 422
            why = "already marked as" if after == before else f"it is {before}; from there it can become"
            assert why in seen(page.text)
            assert f'action="{STEPS}"' not in page.text
            assert '<a href="/enquiries/1">See the enquiry as it stands</a>' in page.text
        assert "rang them" in seen(sent.text)
    assert (now_kept(streets).state, history(streets)) == (before, [(before, "")])


def test_asked_today_is_one_press(client, planned, streets):
    form = form_of(client.get("/enquiries/1").text, STEPS)
    assert form.keys() == {"csrf_token", "version", "state"}
    assert client.send(STEPS, form).status_code == 303
    assert (now_kept(streets).state, now_kept(streets).sent_on) == ("asked", date(2026, 10, 17))
    assert "Sent today, <b>no answer yet</b>" in client.get("/enquiries/1").text


def test_asked_in_a_second_window_is_told_that_it_was_asked_already(client, planned, streets):
    form = form_of(client.get("/enquiries/1").text, STEPS)
    client.send(STEPS, form)
    again = client.send(STEPS, form)
    assert again.status_code == 422
    page = seen(again.text)
    assert "this enquiry is already marked as asked (sent today, no answer yet). Nothing was changed." in page
    assert f'action="{STEPS}"' not in again.text
    assert history(streets) == [("planned", ""), ("asked", "")]


@pytest.mark.parametrize("address", ["new", "new?state=", "new?state=<b>bold"])
def test_a_step_to_nowhere_is_told_on_the_enquiry_s_own_page(client, planned, address):
    page = client.get(f"{STEPS}/{address}")
    assert page.status_code == 422
    assert "it is planned; from there it can become asked or withdrawn." in seen(page.text)
    assert "cannot become" not in page.text
    assert "<b>bold" not in page.text


@pytest.mark.parametrize(("before", "told"), [("planned", False), ("asked", True), ("granted", True)])
def test_withdrawing_what_was_never_sent_tells_nobody(client, streets, before, told):
    keep(streets, IN_STATE[before])
    page = seen(client.get(f"{STEPS}/new?state=withdrawn").text)
    assert ("told them so" in page) is told
    assert ("It was never sent" in page) is not told


def test_a_grant_is_written_down_as_narrow_as_it_came(client, asked, streets):
    form = form_of(client.get(f"{STEPS}/new?state=granted").text, STEPS)
    assert (form["answered_on"], form["asks_group"], form["asks_teaching"]) == ("2026-10-17", "yes", "yes")
    form.pop("asks_teaching")
    typed = {"reference": "H 17", "people": "6", "hours": "17-18", "valid_to": "30 Nov", "conditions": "weights"}
    assert client.send(STEPS, form | typed).status_code == 303
    granted = now_kept(streets)
    assert (granted.activities, granted.people, granted.to_time) == (("group",), 6, time(18))
    assert (granted.valid_to, granted.reference) == (date(2026, 11, 30), "H 17")
    page = seen(client.get("/enquiries/1").text)
    assert "Granted, reference H 17. It covers what stands below and nothing else: carry it with you." in page
    assert "Not covered of Evening light as it is planned now:" in page
    assert "it covers 6 people, you are 9" in page
    assert "it does not name paid teaching" in page
    assert STANDING_NOTE in page
    client.send("/enquiries/1/taking-back?version=2", {})
    assert now_kept(streets).people == 9


def test_a_grant_changes_what_is_found_for_the_workshop(client, asked):
    def answers():
        found = client.get("/workshops/1.json").json["activities"]
        return {each["activity"]: each["strictest"]["answer"] for each in found}

    assert answers()["group"] == Answer.NO_ANSWER_YET
    take(client, "granted")
    assert answers()["group"] == answers()["teaching"] == Answer.GRANTED
    assert answers()["flash_held"] == Answer.NOT_CHECKED
    client.send("/enquiries/1/taking-back?version=2", {})
    assert answers()["group"] == Answer.NO_ANSWER_YET


def test_a_refusal_changes_it_too(client, asked):
    take(client, "refused", reference="no 3")
    found = client.get("/workshops/1.json").json["activities"]
    assert {each["activity"]: each["strictest"]["answer"] for each in found}["group"] == Answer.NOT_PERMITTED


def test_asking_anew_forgets_the_answer_and_history_keeps_it(client, streets):
    keep(streets, replace(GRANTED, state="refused"))
    take(client, "planned")
    anew = now_kept(streets)
    assert (anew.state, anew.sent_on, anew.answered_on, anew.reference) == ("planned", None, None, "")
    assert [state for state, _ in history(streets)] == ["refused", "planned"]


@pytest.mark.parametrize(
    ("state", "field", "typed", "message"),
    [
        ("granted", "answered_on", "18 Oct", "is still to come"),
        ("granted", "answered_on", "30 Sep", "is before"),
        ("granted", "valid_from", "soon", "is not a date"),
        ("granted", "valid_to", "2026-01-01", "valid_to"),
        ("granted", "people", "lots", "is not a number"),
        ("granted", "hours", "18-18", "begins when it ends"),
        ("granted", "reference", "x" * 999, "999 characters"),
        ("granted", "note", "x" * 2001, "at most 2000"),
        ("refused", "answered_on", "2027-01-01", "is still to come"),
    ],
)
def test_a_step_with_a_bad_field_is_not_taken_and_keeps_what_was_typed(
    client, asked, streets, state, field, typed, message
):
    given = {"valid_from": "2026-10-20"} if field == "valid_to" else {}
    mine = {"note": "by letter", field: typed}
    sent = take(client, state, **given, **mine)
    assert sent.status_code == 422
    assert f'id="{field}-wrong"' in sent.text
    assert message == field or message in seen(sent.text)
    again = form_of(sent.text, STEPS)
    assert {name: again[name] for name in mine} == mine
    assert (now_kept(streets).state, history(streets)) == ("asked", [("asked", "")])


def test_it_cannot_have_been_sent_tomorrow(client, planned, streets):
    sent = take(client, "asked", sent_on="18 Oct")
    assert sent.status_code == 422
    assert "is still to come" in seen(sent.text)


def test_who_comes_second_loses_nothing_typed(client, asked, streets):
    mine = form_of(client.get(f"{STEPS}/new?state=granted").text, STEPS) | {"reference": "H 17", "note": "by letter"}
    with streets.writing() as s:
        kept.change_enquiry(s, 1, 1, replace(ASKED, notes="rang twice"))
    sent = client.send(STEPS, mine)
    assert sent.status_code == 409
    assert "somebody changed this enquiry while you were typing; it is asked now" in seen(sent.text)
    again = form_of(sent.text, STEPS)
    assert (again["reference"], again["note"], again["version"]) == ("H 17", "by letter", "2")
    assert client.send(STEPS, again).status_code == 303
    assert (now_kept(streets).state, now_kept(streets).notes) == ("granted", "rang twice")


def test_a_step_of_a_deleted_enquiry_loses_nothing_typed(client, asked, streets):
    mine = form_of(client.get(f"{STEPS}/new?state=granted").text, STEPS) | {"reference": "H 17"}
    with streets.writing() as s:
        kept.delete_enquiry(s, 1, 1)
    sent = client.send(STEPS, mine)
    assert sent.status_code == 409
    assert "Bring the enquiry back" in sent.text
    assert form_of(sent.text, STEPS)["reference"] == "H 17"


def test_an_undo_that_is_too_late_undoes_nothing(client, asked, streets):
    take(client, "granted")
    with streets.writing() as s:
        kept.change_enquiry(s, 1, 2, replace(GRANTED, notes="rang twice"))
    assert client.send("/enquiries/1/taking-back?version=2", {}).status_code == 409
    assert now_kept(streets).state == "granted"


@pytest.mark.parametrize("form", [{}, {"version": "x"}, {"version": "1", "state": "<b>"}, {"state": "asked"}])
def test_a_step_must_say_what_it_was_made_from(client, planned, streets, form):
    sent = client.send(STEPS, form)
    assert sent.status_code == 422
    assert "<b>&" not in sent.text
    assert now_kept(streets).state == "planned"
