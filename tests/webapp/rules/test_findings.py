"""The what-if: answer first, every activity with its answers, words in the address, told on the spot in one press."""

from __future__ import annotations

import re
from datetime import date
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest
from markupsafe import escape

from models.planning.rules.what_if import COUNTED, FOOTPRINT
from models.rules.areas import AreaDraft
from models.rules.enquiry import EnquiryDraft
from models.rules.papers import PaperDraft
from models.rules.rule import RuleDraft
from models.store import rules as kept
from models.words.never import forbidden_in
from models.words.rules import STANDING_NOTE
from tests.webapp.conftest import HOSTILE
from tests.webapp.streets import keep_streets, square

HERE = "/spots/1/rules?on=2026-10-31&at=17:00"
TWIN = "/spots/1/rules.json?on=2026-10-31&at=17:00"


@pytest.fixture
def streets(store):
    return keep_streets(store)


def seen(html: str) -> str:
    """What a reader sees: no script, no tags."""
    inline = re.sub(r"</?(?:a|b|span)\b[^>]*>", "", html)
    return " ".join(unescape(re.sub(r"<script.*?</script>|<[^>]+>", " ", inline, flags=re.DOTALL)).split())


def asked(response) -> dict[str, str]:
    return {name: values[0] for name, values in parse_qs(urlsplit(response.headers["Location"]).query).items()}


def test_where_nothing_is_recorded_everything_is_loudly_not_checked(client):
    page = client.get(HERE)
    assert page.status_code == 200
    twin = client.get(TWIN).json
    assert [each["activity"] for each in twin["activities"]] == [
        "stand_held",
        "flash_held",
        "group",
        "teaching",
        "models",
    ]
    assert {each["strictest"]["answer"] for each in twin["activities"]} == {4}
    assert "<b>Not checked:</b>" in page.text
    assert page.text.count('<li class="finding answer-4"') == 5
    assert "Somebody controls it all the same" in page.text
    assert "No paper is noted" not in page.text
    assert "No insurance is noted." in page.text


def test_page_and_json_say_the_same(client, streets):
    page, twin = client.get(f"{HERE}&stand_ground=2&group=10"), client.get(f"{TWIN}&stand_ground=2&group=10").json
    text = seen(page.text)
    assert twin["answer"] in text
    for activity in twin["activities"]:
        for finding in (activity["strictest"], *activity["others"]):
            for words in ("words", "why", "ask", "say"):
                assert finding[words] in text
    assert twin["standing_note"] == STANDING_NOTE
    assert STANDING_NOTE in text


def test_the_strictest_answer_comes_first_with_the_day_to_ask_by(client, streets):
    twin = client.get(f"{TWIN}&stand_ground=2").json
    assert twin["strictest"] == 1
    assert twin["answer"].startswith(
        "Saturday 31 October 2026, 17:00 to 18:30 CET, Foundry Lane. Recorded as not permitted: 2 stands on the ground."
    )
    assert "Ask by Friday 23 October 2026 about a group of 9 people." in twin["answer"]
    by = {each["activity"]: each for each in twin["activities"]}
    assert by["group"]["strictest"]["by"] == "2026-10-23"
    assert by["stand_held"]["strictest"]["answer"] == 8
    assert "hand-held stand" in by["stand_ground"]["way_round"]
    assert by["teaching"]["strictest"]["answer"] == 4


def test_all_other_answers_are_folded_but_counted(client, store, streets):
    with store.writing() as s:
        kept.add_rule(
            s,
            RuleDraft(
                spot_id=1, activity="stand_ground", found="unknown", source_title="Me", checked_on=date(2026, 9, 1)
            ),
        )
    page = client.get(f"{HERE}&stand_ground=2")
    assert "1 more answer for this" in seen(page.text)


def test_a_footprint_lives_in_the_address_without_its_usual_words(client):
    form = dict.fromkeys(FOOTPRINT, "") | {"group": "nine people", "stand_ground": "3 stands", "lasts": "19:00"}
    moved = client.get("/spots/1/rules", query_string={"on": "2026-10-31", "at": "17:00"} | form)
    assert moved.status_code == 303
    assert asked(moved) == {"on": "2026-10-31", "at": "17:00", "stand_ground": "3", "lasts": "120min"}
    assert client.get(moved.headers["Location"]).status_code == 200


def test_a_step_of_the_time_moves_the_whole_workshop(client):
    stepped = client.get(f"{HERE}&lasts=120min&step=15")
    assert asked(stepped) == {"on": "2026-10-31", "at": "17:15", "lasts": "120min"}
    assert "17:15 to 19:15" in client.get(stepped.headers["Location"].replace("/rules?", "/rules.json?")).json["when"]


@pytest.mark.parametrize(
    ("name", "text"),
    [*((name, "some") for name in COUNTED), ("teaching", "perhaps"), ("lasts", "soon"), ("width", "narrow"),
     ("meet", "the pub"), ("fallback", "the pub"), ("fallback", "1"), ("group", HOSTILE)],
)  # fmt: skip
def test_a_word_that_cannot_be_read_stays_with_what_is_wrong(client, name, text):
    page = client.get("/spots/1/rules", query_string={"on": "2026-10-31", "at": "17:00", name: text})
    assert page.status_code == 422
    assert page.text.count('role="alert"') == 2  # the bar's place for problems, and this one
    assert f'value="{escape(text)}"' in page.text or 'name="teaching"' in page.text
    words = seen(page.text)
    assert f"“{seen(escape(text))[:20]}" in words
    assert words.index("was not read.") < words.index("Saturday 31 October")
    assert "the usual stands in, " in words
    assert "<img src=x" not in page.text
    twin = client.get("/spots/1/rules.json", query_string={"on": "2026-10-31", "at": "17:00", name: text})
    assert (twin.status_code, twin.json["field"]) == (422, name)


def test_links_carry_the_what_if_from_page_to_page(client):
    page = client.get(f"{HERE}&group=12").text
    words = "on=2026-10-31&amp;at=17:00&amp;group=12"
    for path in ("/spots/1", "/workshops", "/times", "/spots/1/rules.json"):
        assert f'href="{path}?{words}"' in page
    assert f'action="/spots/1/rules/told?{words}"' in page
    assert re.search(r'href="/enquiries/new\?[^"]*group=12[^"]*activity=group', page)
    assert 'href="/rules/new?activity=group&amp;spot=1"' in page


def test_a_bad_moment_is_said_in_the_bar(client):
    assert client.get("/spots/1/rules?on=2026-03-29&at=02:30").status_code == 422
    assert client.get("/spots/1/rules.json?on=2026-03-29&at=02:30").json["field"] == "time"


def test_an_end_in_the_repeated_hour_is_told_apart(client):
    night = {"on": "2026-10-25", "at": "01:30"}
    twice = client.get("/spots/1/rules.json", query_string=night | {"lasts": "02:30"})
    assert (twice.status_code, twice.json["field"]) == (422, "lasts")
    first, second = (
        client.get("/spots/1/rules", query_string=night | {"lasts": f"02:30 {z}"}) for z in ("CEST", "CET")
    )
    assert (asked(first)["lasts"], asked(second)["lasts"]) == ("60min", "120min")


def test_no_such_spot(client):
    for address in ("/spots/99/rules", "/spots/99/rules.json", f"/spots/{'9' * 30}/rules"):
        assert client.get(address).status_code == 404


def test_same_guard_is_no_fallback(client, store, streets):
    with store.writing() as s:
        kept.add_area(
            s, AreaDraft(name="Quay", kind="waterfront", authority="highways  OFFICE", shape=square(52.5288, 5.2275))
        )
    page = seen(client.get(f"{HERE}&fallback=2").text)
    assert "Same guard: no fallback." in page
    assert client.get(f"{TWIN}&fallback=2").json["fallback"]["same_guard"] == ["Highways office"]
    assert "Who controls both places is not recorded" in seen(client.get(f"{HERE}&fallback=3").text)


def test_the_walk_tells_of_areas_that_control_passing(client, store, streets):
    between = square(52.5294, 5.2293)
    with store.writing() as s:
        kept.add_area(s, AreaDraft(name="Station", kind="transit", authority="Railway", shape=between, no_passing=True))
        kept.add_area(s, AreaDraft(name="Park", kind="park", authority="Parks", shape=between))
    twin = client.get(f"{TWIN}&meet=52.528800,5.227500", follow_redirects=True).json
    assert [area["name"] for area in twin["walk"]["areas"]] == ["Station"]
    held = next(each for each in twin["activities"] if each["activity"] == "stand_held")
    assert [other["where"] for other in (held["strictest"], *held["others"])] == ["Station", "Old streets"]
    assert "even passing with kit" in client.get(f"{HERE}&meet=Ferry quay", follow_redirects=True).text


@pytest.mark.parametrize(
    ("said", "found", "answer"), [("no", "not_permitted", 1), ("office", "needed", 3), ("nothing", "none_found", 4)]
)
def test_one_press_keeps_what_was_told_on_the_spot(client, store, said, found, answer):
    """The office answers 3 and not 2: there is no lead time, and the day is to come."""
    sent = client.send(f"/spots/1/rules/told{HERE[14:]}&group=12", {"activity": "group", "said": said})
    assert sent.status_code == 303
    assert sent.headers["Location"] == "/spots/1/rules?on=2026-10-31&at=17%3A00&group=12"
    with store.reading() as s:
        (rule,) = kept.rules_of_spot(s, 1)
    assert (rule.found, rule.spoken, rule.checked_on) == (found, True, date(2026, 10, 17))
    assert "12 people" in rule.source_section
    page = client.get(sent.headers["Location"])
    assert "Kept as told on the spot" in page.text
    assert "said on the spot on Saturday 17 October 2026" in seen(page.text)
    twin = client.get(f"{TWIN}&group=12").json
    assert {e["activity"]: e["strictest"]["answer"] for e in twin["activities"]}["group"] == answer


def test_what_was_told_can_be_taken_back(client, store):
    client.send(f"/spots/1/rules/told{HERE[14:]}", {"activity": "group", "said": "no"})
    undo = re.search(r'action="(/spots/1/rules/told/\d+/undoing[^"]*)"', client.get(HERE).text)[1]
    back = client.send(unescape(undo), {})
    assert back.headers["Location"] == "/spots/1/rules?on=2026-10-31&at=17%3A00"
    with store.reading() as s:
        assert kept.rules_of_spot(s, 1) == ()
    assert client.send(unescape(undo), {}).status_code in (303, 404, 409)


@pytest.mark.parametrize(
    ("address", "form", "status"),
    [
        ("/spots/1/rules/told", {"activity": "juggling", "said": "no"}, 422),
        ("/spots/1/rules/told", {"activity": "group", "said": "yes"}, 422),
        ("/spots/1/rules/told", {}, 422),
        ("/spots/1/rules/told?on=never", {"activity": "group", "said": "no"}, 422),
        ("/spots/1/rules/told?group=none", {"activity": "group", "said": "no"}, 422),
        ("/spots/99/rules/told", {"activity": "group", "said": "no"}, 404),
        ("/spots/1/rules/told/99/undoing", {}, 404),
    ],
)
def test_what_cannot_have_been_told_is_refused(client, store, address, form, status):
    assert client.send(address, form).status_code == status
    with store.reading() as s:
        assert len(kept.list_rules(s)) == 0


def test_a_told_rule_of_another_spot_is_left_alone(client, store):
    facts = {"activity": "group", "found": "not_permitted", "source_title": "Guard", "checked_on": date(2026, 9, 1)}
    with store.writing() as s:
        written = kept.add_rule(s, RuleDraft(spot_id=1, **facts))
        elsewhere = kept.add_rule(s, RuleDraft(spot_id=2, spoken=True, **facts))
    for rule in (written, elsewhere):
        assert client.send(f"/spots/1/rules/told/{rule.id}/undoing", {}).status_code == 404
    with store.reading() as s:
        assert len(kept.list_rules(s)) == 2


def test_telling_needs_the_token_of_a_page(client):
    assert client.post("/spots/1/rules/told", data={"activity": "group", "said": "no"}).status_code == 403


def test_hostile_names_are_text(client, store):
    with store.writing() as s:
        area = kept.add_area(
            s,
            AreaDraft(name=HOSTILE, kind="park", authority=HOSTILE, contact=HOSTILE, notes=HOSTILE,
                      shape=square(52.5307, 5.2290)),
        )  # fmt: skip
        rule = {"activity": "group", "found": "conditions", "conditions": HOSTILE, "source_title": HOSTILE}
        kept.add_rule(s, RuleDraft(area_id=area.id, fee=HOSTILE, read_by=HOSTILE, checked_on=date(2026, 9, 1), **rule))
        kept.add_paper(s, PaperDraft(kind="insurance", title=HOSTILE, reference=HOSTILE, where=HOSTILE))
        kept.add_enquiry(
            s, EnquiryDraft(to_whom=HOSTILE, area_id=area.id, activities=("group",), reference=HOSTILE, contact=HOSTILE)
        )
    page = client.get("/spots/3/rules?on=2026-10-31&at=17:00&fallback=1")
    assert page.status_code == 200
    assert "<img src=x" not in page.text
    assert "</script><img" not in page.text
    assert str(escape(HOSTILE)) in page.text


def test_no_page_says_that_anything_may_be_done(client, store, streets):
    with store.writing() as s:
        kept.add_enquiry(
            s,
            EnquiryDraft(
                to_whom="Highways office", area_id=streets.id, activities=("group", "teaching"), state="granted",
                first_day=date(2026, 10, 31), last_day=date(2026, 10, 31), people=12, sent_on=date(2026, 10, 1),
                answered_on=date(2026, 10, 9), reference="HW 1",
            ),
        )  # fmt: skip
    for words in ("", "&stand_ground=2&group=14&filming=yes", "&group=many", "&fallback=2&meet=52.5288,5.2275"):
        page = client.get(HERE + words, follow_redirects=True)
        assert STANDING_NOTE in page.text
        assert forbidden_in(seen(page.text)) == []
