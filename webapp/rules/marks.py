"""What every rules page is given: the note it must carry, and the textures of the kinds of area."""

from __future__ import annotations

from markupsafe import Markup

from models.drawing.area_kinds import kind_patterns, kind_swatch
from models.rules.areas import KINDS
from models.words.rules import STANDING_NOTE
from webapp.rules import pages


@pages.app_context_processor
def standing_note() -> dict[str, str]:
    return {"standing_note": STANDING_NOTE}


@pages.app_template_filter()
def sentence_case(words: str) -> str:
    """The first letter large, the others as they are."""
    return words[:1].upper() + words[1:]


@pages.app_template_global()
def area_patterns() -> Markup:
    """What the map draws rule areas with; the page holds it out of sight."""
    return Markup(kind_patterns())  # noqa: S704  made of our own names


@pages.app_template_global()
def area_kinds() -> tuple[tuple[Markup, str], ...]:
    """(swatch, words) of each kind, for a key."""
    return tuple((area_mark(kind), words) for kind, words in KINDS.items())


@pages.app_template_global()
def area_mark(kind: str) -> Markup:
    return Markup(kind_swatch(kind))  # noqa: S704
