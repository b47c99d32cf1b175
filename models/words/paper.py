"""What a briefing says on paper about itself: whose it is, what was left out, what could not be set."""

from __future__ import annotations

from collections.abc import Sequence

from models.words.said import listed
from models.workshop.briefing import Reader

WHOSE: dict[Reader, str] = {"attendee": "For attendees", "model": "For models", "helper": "For helpers"}
CHANGED = "Changed since the version before"
SKETCH_WORDS = "Sketch of the way, north up: meeting point, spot, stations and where to go instead"
CODE_WORDS = "Code that opens this briefing's web page"
DRAFT = "Draft"
PAGES = ("page", "of")
CUT = "…"


def version_line(version: int) -> str:
    """'Version 2', 'Draft' for one that was never issued."""
    return f"Version {version}" if version else DRAFT


def left_out_words(what: Sequence[str], sections: Sequence[str], pages: int, *, has_page: bool) -> str:
    """What this sheet lacks to keep to so many pages; '' where it lacks nothing. what: from LEFT_OUT."""
    lacks = (*what, *(f"the part “{each}”" for each in sections))
    if not lacks:
        return ""
    where = "All of it stands on the web page." if has_page else "Ask the organiser for all of it."
    return f"Left out, to keep this to {pages} pages: {listed(lacks)}. {where}"


LEFT_OUT = {
    "drawings": "the drawings of the setups",
    "sketch": "the sketch of the way",
    "letters": f"the ends of long texts, each marked {CUT}",
    "changes": f"the end of the list of changes, marked {CUT}",
    "lines": f"the ends of long lists, each marked {CUT}",
}


def missing_words(sign: str) -> str:
    """What a sign stands for that the typefaces lack."""
    return f"{sign} stands for a sign that could not be printed."


def undrawn_words(count: int) -> str:
    """What is said where plans are missing that belong there."""
    which = "The plan of one setup is" if count == 1 else f"The plans of {count} setups are"
    return f"{which} not drawn: no such setup is kept any more, or its kit or its light is not known."
