"""What others are told turns no direction, and loses nothing else."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from models.words.directions import TURNING, all_unturned, unturned
from tests.models.exchange.printed import told

SIGNS = [chr(sign) for sign in TURNING]


def test_the_nine_signs_are_meant_and_no_others():
    """Unicode Standard Annex 9, table of explicit directional formatting characters."""
    assert [f"{sign:04X}" for sign in TURNING] == [
        "202A", "202B", "202C", "202D", "202E", "2066", "2067", "2068", "2069",
    ]  # fmt: skip
    assert unturned("שלום \u202eevil\u202c, 52.5\u200e \u2067x\u2069") == "שלום evil, 52.5\u200e x"


@given(st.lists(st.text(max_size=8) | st.sampled_from(SIGNS), max_size=12))
def test_everything_else_stays_in_its_order(pieces):
    text = "".join(pieces)
    assert unturned(text) == "".join(sign for sign in text if sign not in SIGNS)


def test_every_text_of_a_briefing_is_meant():
    def turned(briefing):
        sections = tuple(
            replace(each, title=f"\u202e{each.title}", items=("\u2066item", *each.items)) for each in briefing.sections
        )
        return replace(briefing, title="\u202eTitle", changes=("\u202bmoved",), sections=sections)

    plain = told(title="Title", changes=("moved",))
    plain = replace(plain, sections=tuple(replace(each, items=("item", *each.items)) for each in plain.sections))
    assert all_unturned(turned(told())) == plain
    assert all_unturned(plain) == plain
