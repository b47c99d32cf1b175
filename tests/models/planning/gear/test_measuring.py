"""Measure your own: a reading gives a guide number or a loss, stands in for what is printed, and can be taken back."""

from __future__ import annotations

from datetime import UTC, date, datetime
from math import log2

import pytest

from models.exchange.kit import read_kit
from models.planning.demo import HAVENMARK
from models.planning.gear.keeping import get_piece, kind_called, retire
from models.planning.gear.listing import kit_page
from models.planning.gear.measuring import PARAMETERS, delete_reading, keep_reading, measuring_page, restore_reading
from models.planning.kit import kit_of
from models.planning.sentence import PARAMETERS as OF_THE_SENTENCE
from models.problems import InputProblem
from models.store.versions import Missing

TODAY = date(2026, 10, 17)
BARE = {"from": "2 m", "iso_read": "100", "fraction": "full", "read": "f/9"}


def flash(store, flash_id="small"):
    return next(each for each in kit_of(store).flashes if each.id == flash_id)


def test_the_sentence_and_what_it_gives(kit):
    page = measuring_page(kit, "small", BARE, TODAY)
    assert page.sentence.text == (
        "At 2 m, ISO 100, full power, zoomed to 24 mm, bare, my meter read f/9 on 17 Oct 2026."
    )
    assert page.answer == "That is a guide number of 18.0 m at 24 mm: 0.3 stop under the 20 m it is down for."
    assert "= 18.0 m" in page.working[0]
    assert measuring_page(kit, "small", page.sentence.address, TODAY) == page
    assert 2 * log2(18 / 20) == pytest.approx(-0.30, abs=0.01)


def test_feet_iso_and_power_are_scaled(kit):
    """Half the power at ISO 200 is full power at ISO 100: f/11 at 2 m again makes 22 m (ISO 1230)."""
    asked = {"from": "6.5617 ft", "iso_read": "ISO 200", "fraction": "1/2", "read": "11"}
    assert measuring_page(kit, "small", asked, TODAY).answer.startswith("That is a guide number of 22.0 m at 24 mm")


def test_a_kept_reading_stands_in_for_what_is_printed(kit):
    before = kit_of(kit)
    kept = keep_reading(kit, "small", BARE, TODAY)
    assert flash(kit).measured
    assert flash(kit).guide_numbers[0] == pytest.approx((24, 18.0))
    assert "instead of the 20.0 m" in flash(kit).guide_note
    assert flash(kit, "large") == before.flashes[1]
    row = kit_page(kit).groups[0].rows[0]
    assert (row.note, row.only_printed) == (flash(kit).guide_note, False)
    delete_reading(kit, kept.id, kept.version, now=datetime(2026, 10, 17, tzinfo=UTC))
    assert kit_of(kit) == before
    restore_reading(kit, kept.id)
    assert flash(kit).measured


def test_with_and_without_the_modifier(kit):
    behind = BARE | {"behind": "plastic dome", "read": "f/5"}
    alone = measuring_page(kit, "small", behind, TODAY)
    assert "keep a bare reading of this flash at 24 mm as well" in alone.answer
    keep_reading(kit, "small", BARE, TODAY)
    assert measuring_page(kit, "small", behind, TODAY).answer == (
        "Metered: plastic dome takes 1.7 stops at 24 mm (2 readings, the last of 17 October 2026) "
        "instead of the 1.5 it was down for."
    )
    keep_reading(kit, "small", behind, TODAY)
    dome = next(each for each in kit_of(kit).modifiers if each.id == "dome")
    assert dome.loss_stops == pytest.approx(2 * log2(9 / 5))
    page = measuring_page(kit, "small", {}, TODAY)
    assert [row.gives for row in page.rows] == ["guide number 10.0 m behind it", "guide number 18.0 m"]
    assert len(page.so_far) == 1


def test_a_loss_stays_metered_when_its_flash_is_retired(kit):
    keep_reading(kit, "small", BARE, TODAY)
    keep_reading(kit, "small", BARE | {"behind": "dome", "read": "5"}, TODAY)
    flashes = kind_called("flashes")
    retire(kit, flashes, "small", get_piece(kit, flashes, "small").version)
    dome = next(each for each in kit_of(kit).modifiers if each.id == "dome")
    assert dome.loss_note.startswith("Metered")


def test_an_unmeasured_kit_answers_as_it_is_kept(kit):
    assert kit_of(kit) == read_kit(HAVENMARK / "kit.toml")


@pytest.mark.parametrize(
    ("word", "text"),
    [
        ("from", "near"),
        ("from", "300 m"),
        ("iso_read", "fast"),
        ("iso_read", "1"),
        ("fraction", "2"),
        ("fraction", "some"),
        ("head", "wide"),
        ("head", "4000 mm"),
        ("head", "999 mm"),
        ("head", "211 mm"),
        ("head", "11.9 mm"),
        ("behind", "a cloud"),
        ("by", "guess"),
        ("read", "bright"),
        ("read", "f/0"),
        ("day", "never"),
        ("day", "2026-10-18"),
    ],
)
def test_a_word_that_cannot_be_is_named(kit, word, text):
    for work in (measuring_page, keep_reading):
        with pytest.raises(InputProblem) as raised:
            work(kit, "small", BARE | {word: text}, TODAY)
        assert raised.value.field == word


def test_a_zoom_not_far_from_those_noted_is_taken(kit):
    for zoom in ("12 mm", "210 mm"):
        assert measuring_page(kit, "small", BARE | {"head": zoom}, TODAY).complete


def test_nothing_is_kept_without_an_aperture_and_no_flash_is_made_up(kit):
    with pytest.raises(InputProblem, match="read: say what the meter read"):
        keep_reading(kit, "small", {}, TODAY)
    assert not measuring_page(kit, "small", {}, TODAY).complete
    with pytest.raises(Missing):
        measuring_page(kit, "none", {}, TODAY)


def test_its_words_are_nobody_elses():
    """Addresses carry words from page to page."""
    assert not set(PARAMETERS) & {*OF_THE_SENTENCE, "on", "at", "sky", "fold"}
