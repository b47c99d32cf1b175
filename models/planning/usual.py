"""What a sentence says that the usual one does not: all that an address has to carry."""

from __future__ import annotations

from collections.abc import Mapping

from models.planning.kit import kit_of
from models.planning.sentence import read_sentence
from models.store.engine import Store


def unusual_words(store: Store, usual_looking_deg: float | None, asked: Mapping[str, str]) -> dict[str, str]:
    """The sentence's parameters as they are understood, the usual ones left out. Raises InputProblem."""
    kit = kit_of(store)
    usual = read_sentence({}, kit, usual_looking_deg)
    return read_sentence(asked, kit, usual_looking_deg).unlike(usual)
