"""Texts changed for all workshops and for one, and what the organiser is asked to look at before it goes out."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from models.planning.briefing.facts import facts_of
from models.planning.briefing.looking import names_in, sounds_allowed
from models.planning.briefing.texts import change_texts, name_of, texts_page
from models.problems import InputProblems
from models.store.people import people_of
from models.store.versions import Clash, Missing
from models.words.briefing import BRING, PARAGRAPHS, TEXT_KEYS, usual
from tests.models.planning.workshops.evening import NOW
from tests.models.words.briefings import FACTS

TOUCH = PARAGRAPHS["touch"].text


def changed(store, workshop_id):
    return {field.name for field in texts_page(store, workshop_id).fields if field.changed}


def test_a_workshop_follows_the_organiser_until_it_says_otherwise(briefed):
    assert changed(briefed, None) == changed(briefed, 1) == set()
    change_texts(briefed, None, 0, {"touch": "Hands off.", "slow": "Stop: [who has spares] has some."})
    assert changed(briefed, None) == {"touch", "slow"}
    assert changed(briefed, 1) == set()
    told = facts_of(briefed, 1, NOW).paragraphs
    assert (told["touch"], told["slow"]) == ("Hands off.", "Stop: R. Vale has some.")
    change_texts(briefed, 1, 0, {"touch": "Hands in pockets.", "spares": "K. Reed"})
    told = facts_of(briefed, 1, NOW).paragraphs
    assert (told["touch"], told["slow"]) == ("Hands in pockets.", "Stop: K. Reed has some.")
    assert texts_page(briefed, None).form["touch"] == "Hands off."


def test_an_emptied_text_is_not_said_and_the_usual_words_come_back(briefed):
    change_texts(briefed, 1, 0, {"touch": " ", "bring": "A card\n\n a hat "})
    facts = facts_of(briefed, 1, NOW)
    assert facts.paragraphs["touch"] == ""
    assert facts.bring == ("A card", "a hat")
    change_texts(briefed, 1, 1, {"usual_touch": "yes", "touch": "whatever", "usual_bring": "yes"})
    assert changed(briefed, 1) == set()
    assert facts_of(briefed, 1, NOW).paragraphs["touch"] == TOUCH
    assert "\n".join(facts_of(briefed, 1, NOW).bring) == usual(BRING)


def test_a_text_left_as_usual_is_not_kept_and_follows_the_organiser_later(briefed):
    change_texts(briefed, 1, 0, texts_page(briefed, 1).form)
    change_texts(briefed, None, 0, {"touch": "Hands off."})
    assert facts_of(briefed, 1, NOW).paragraphs["touch"] == "Hands off."


def test_who_was_slower_clashes_and_other_workshops_are_missing(briefed):
    change_texts(briefed, 1, 0, {"touch": "First"})
    with pytest.raises(Clash):
        change_texts(briefed, 1, 0, {"touch": "Second"})
    for ask in (lambda: texts_page(briefed, 9), lambda: change_texts(briefed, 9, 0, {})):
        with pytest.raises(Missing):
            ask()


def test_every_problem_is_named_at_once_and_nothing_is_kept(briefed):
    typed = {"touch": "x" * 1001, "slow": "[nobody] has spares", "bring": "\n".join("a" * 21), "contact": "y" * 201}
    with pytest.raises(InputProblems) as caught:
        change_texts(briefed, 1, 0, typed | {"help": "Kept?"})
    assert set(caught.value.by_field) == {"touch", "slow", "bring", "contact"}
    assert "There are [organiser], [contact]" in caught.value.by_field["slow"]
    assert changed(briefed, 1) == set()


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.dictionaries(
        st.sampled_from(TEXT_KEYS), st.text(st.characters(exclude_characters="[]\x00", codec="utf-8"), max_size=60)
    )
)
def test_what_is_kept_is_what_the_form_shows_again(shared_plans, typed):
    page = texts_page(shared_plans, None)
    change_texts(shared_plans, None, page.version, {name_of(key): text for key, text in typed.items()})
    again = texts_page(shared_plans, None)
    shown = {key: again.form[name_of(key)] for key in typed}
    assert all(" ".join(shown[key].split()) == " ".join(text.split()) for key, text in typed.items())
    change_texts(shared_plans, None, again.version, dict(again.form))
    assert texts_page(shared_plans, None).form == again.form


def test_names_of_people_who_come_are_found_in_the_organisers_words(briefed):
    with briefed.reading() as s:
        people = people_of(s, 1)
    facts = facts_of(briefed, 1, NOW)
    assert names_in(facts, people) == ()
    stations = (replace(facts.stations[0], lesson="ask ADA BROOK, not Finn Weirs"), *facts.stations[1:])
    found = names_in(replace(facts, stations=stations, leaf=("Call 0555 0206",)), people)
    assert [(str(each), each.told) for each in found] == [("Ada Brook", "attendee 1"), ("Mira Lune", "model 1")]
    chosen = replace(facts, talks="Jo Moss", paragraphs={"stopped": "Jo Moss talks."})
    assert names_in(chosen, people) == ()
    assert [each.told for each in names_in(replace(chosen, talks=""), people)] == ["helper 1"]


def test_wording_that_reads_as_a_permission_is_pointed_at():
    worded = replace(FACTS, paragraphs={"walkers": "You may shoot here: it is permitted.", "touch": "Hands off."})
    assert sounds_allowed(worded) == ("Walkers first: “permitted”, “you may”",)
    assert sounds_allowed(replace(FACTS, wear=("Hats are fine",))) == ("What to wear: “are fine”",)
    assert sounds_allowed(FACTS) == ()
