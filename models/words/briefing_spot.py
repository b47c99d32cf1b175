"""What a briefing says of a spot itself: what is near it, and the usual cautions where it has no pavement."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from models.words.said import listed

FROM_A_MAP = "As a map has them; look before the day whether they are open."
LOOK_NEAR = "Look before the day what is near."
_NONE = re.compile(r"none\b[\s.,;:!]*", re.IGNORECASE)
_NO_PAVEMENT = re.compile(r"\b(?:no|without an?|without) (?:pavement|footway|sidewalk)s?\b", re.IGNORECASE)
FROM_THE_KERB = (
    ("vehicles beside the pavement", "vehicles"),
    ("Nobody steps back into the road to frame. Stay a stride from the kerb; the watcher", "The watcher"),
)
"""What of a usual line holds only where there is a pavement, and what is said without one."""


def near_words(comforts: Sequence[str], noted: str) -> str:
    """The nearest places with how far they are, then what is noted of the spot; '' where there is neither. A note that
    begins with "none" says of what."""
    none = _NONE.match(noted.strip())
    parts = [f"{listed(list(comforts))}. {FROM_A_MAP}"] if comforts else []
    if none:
        parts += ["At the spot itself there is nothing."] if comforts else ["nothing is noted at the spot itself."]
        rest = noted.strip()[none.end() :]
        parts += [rest[:1].upper() + rest[1:] if rest else "" if comforts else LOOK_NEAR]
    else:
        parts.append(f"At the spot itself: {noted.strip()}" if comforts and noted.strip() else noted.strip())
    return " ".join(filter(None, parts))


def says_no_pavement(lines: Iterable[str]) -> bool:
    """Whether a line of the hazards sheet says that the spot has none."""
    return any(_NO_PAVEMENT.search(line) for line in lines)


def without_pavement(line: str) -> str:
    """A usual line of the hazards sheet for a spot without a pavement; any other as it is."""
    for usual_words, there in FROM_THE_KERB:
        line = line.replace(usual_words, there)
    return line
