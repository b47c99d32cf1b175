"""When a setup works, what to re-dial, and the cards."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace

import pytest

from models.planning.setups.keeping import add_setup
from tests.webapp.conftest import HOSTILE
from tests.webapp.setups.conftest import DRAFT, KEY, WHEN


def test_the_day_is_told_from_end_to_end_and_the_answer_names_its_good_hours(client, setup_id):
    found = client.get(f"/setups/{setup_id}/when.json?{WHEN}").json
    spans = found["spans"]
    assert (spans[0]["start"], spans[-1]["end"]) == ("00:00", "24:00")
    assert all(a["end"] == b["start"] for a, b in itertools.pairwise(spans))
    good = [f"{span['start']} to {span['end']}" for span in spans if span["works"]]
    assert good
    assert all(words in found["answer"] for words in good)


def test_without_a_spot_the_page_leads_to_one_and_the_figures_are_an_error_of_their_own(client, setup_id):
    assert client.get(f"/setups/{setup_id}/when").headers["Location"] == f"/setups/{setup_id}"
    refused = client.get(f"/setups/{setup_id}/when.json")
    assert (refused.status_code, refused.json["field"]) == (422, "spot")


def test_the_day_names_its_zone_and_both_when_the_clocks_change(client, setup_id):
    """Summer time ends on the last Sunday of October, 25 October 2026: Directive 2000/84/EC, article 3."""
    assert "Local times, CEST." in client.get(f"/setups/{setup_id}/when?{WHEN}").text
    change = client.get(f"/setups/{setup_id}/when?{WHEN.replace('10-17', '10-25')}").text
    assert "Local times, CEST, then CET." in change


def test_the_setup_page_agrees_with_the_day_in_the_middle_of_every_span(client, setup_id):
    """The page may move lights, the day may not: what works unmoved works there too."""
    for span in client.get(f"/setups/{setup_id}/when.json?{WHEN}").json["spans"]:
        hour = [int(part.split(":")[0]) * 60 + int(part.split(":")[1]) for part in (span["start"], span["end"])]
        if span["works"] and hour[1] - hour[0] >= 30:
            answer = client.get(f"/setups/{setup_id}.json?{_at(span)}").json["answer"]
            assert "Works: " in answer, span


def test_a_light_too_far_off_has_one_verdict_on_the_day_the_page_the_card_and_the_redial_lines(client, store):
    far = add_setup(store, replace(DRAFT, lights=(replace(KEY, distance_m=6.75),))).id
    found = client.get(f"/setups/{far}/when.json?{WHEN}").json
    moving = [span for span in found["spans"] if span["moves"]]
    assert moving
    assert "only if lights are moved" in found["answer"]
    seen = 0
    for span in found["spans"]:
        address = _at(span)
        answer = client.get(f"/setups/{far}.json?{address}").json["answer"]
        card = client.get(f"/setups/{far}/card.json?{address}").json["answer"]
        line = client.get(f"/setups/{far}/when.json?{address}").json["lines"][0]
        assert answer.endswith(card)
        assert ("Works if the key comes from 6.8 m to" in card) == span["moves"], span
        assert ("For this the key comes from 6.8 m to" in line) == span["moves"], span
        assert ("Does not work" in card) == ("It does not work then" in line), span
        seen += span["words"] == "it works if the key comes nearer"
    assert seen


def _at(span: dict[str, str]) -> str:
    """The middle of a stretch of the day."""
    clocks = [int(span[end].split(":")[0]) * 60 + int(span[end].split(":")[1]) for end in ("start", "end")]
    middle = sum(clocks) // 2 // 5 * 5
    return f"spot=1&looking=270&on=2026-10-17&at={middle // 60:02}:{middle % 60:02}"


def test_redial_lines_begin_now_and_run_to_the_time_typed(client, setup_id):
    address = "spot=1&looking=270&on=2026-10-17&at=17%3A30"
    found = client.get(f"/setups/{setup_id}/when.json?{address}&until=18%3A50").json
    clocks = [line[:5] for line in found["lines"]]
    assert clocks[0] == "17:30"
    assert clocks == sorted(clocks)
    assert clocks[-1] <= "18:50"
    assert all(line[5:10] == " CEST" for line in found["lines"])
    assert len(clocks) >= 4  # at dusk about every five to ten minutes
    assert all("darker" in line for line in found["lines"][1:])
    wrong = client.get(f"/setups/{setup_id}/when?{address}&until=soon")
    assert wrong.status_code == 422
    assert 'value="soon"' in wrong.text


def test_the_hours_of_the_year_add_up_to_a_year(client, setup_id):
    found = client.get(f"/setups/{setup_id}/when.json?{WHEN}").json
    assert sum(hours for _, hours in found["hours"]) == pytest.approx(8760, abs=5)
    page = client.get(f"/setups/{setup_id}/when?{WHEN}").text
    assert page.count('class="drawing ') == 2


def test_without_a_spot_there_is_no_day_and_the_setup_asks_for_one(client, setup_id):
    answer = client.get(f"/setups/{setup_id}/when?ev=9")
    assert answer.status_code == 303
    assert answer.location.endswith(f"/setups/{setup_id}?ev=9")


def test_a_card_for_the_camera_and_one_for_each_flash(client, setup_id):
    cards = client.get(f"/setups/{setup_id}/card.json?ev=9&behind=9.5").json["cards"]
    assert [card["head"].split(":")[0] for card in cards] == ["Camera", "Key", "Fill"]
    camera = " ".join(cards[0]["lines"])
    for words in ("Mode manual", "White balance", "Radio channel 1", "Auto ISO off", "Mechanical shutter", "Raw"):
        assert words in camera
    assert "half past 1" in " ".join(cards[1]["lines"])
    assert "2 m to the face" in " ".join(cards[1]["lines"])


def test_the_powers_on_the_cards_are_those_of_the_setup(client, setup_id):
    solved = client.get(f"/setups/{setup_id}.json?{WHEN}").json["solved"]
    cards = client.get(f"/setups/{setup_id}/card.json?{WHEN}").json["cards"]
    for one, card in zip(solved["lights"], cards[1:], strict=True):
        assert card["head"].endswith(one["rung"]["words"])


def test_another_station_takes_another_channel(client, setup_id):
    assert "Radio channel 3" in client.get(f"/setups/{setup_id}/card?ev=9&channel=3").text
    wrong = client.get(f"/setups/{setup_id}/card?ev=9&channel=nine")
    assert wrong.status_code == 422
    assert 'value="nine"' in wrong.text


def test_kit_that_is_gone_and_hostile_titles_do_no_harm(client, store):
    gone = add_setup(store, replace(DRAFT, title=HOSTILE, lights=(replace(KEY, flash="lost"),))).id
    for address in (f"/setups/{gone}/card?{WHEN}", f"/setups/{gone}/when?{WHEN}"):
        page = client.get(address)
        assert page.status_code == 200
        assert "“lost” is not in the kit any more" in page.text
        assert not re.search("<img src=x", page.text)
