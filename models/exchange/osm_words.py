"""What was made of an OpenStreetMap file, in sentences."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from models.exchange.tags import CROWN_RADIUS_M, TREE_M


def notes_of(counts: Counter[str]) -> Iterator[str]:
    """Sentences for counts that are not zero, in reading order."""
    if counts["outlines with parts"]:
        yield (
            f"{counts['parts']} building parts stand in place of their outlines, wholly or in part, "
            f"at {counts['outlines with parts']} buildings."
        )
    broken = counts["outlines"] - counts["areas"]
    if broken > 0:
        yield f"{broken} outlines are not closed in this file (most often at its edge) and are missing."
    if counts["roofs"]:
        yield f"{counts['roofs']} open roofs have no walls and were left out: note a roof at the spot that needs it."
    if counts["underground"]:
        yield f"{counts['underground']} buildings below ground were left out."
    if counts["trees"]:
        yield (
            f"{counts['trees']} trees, {counts['trees assumed']} of them without full measures: "
            f"{TREE_M:g} m high, crown {2 * CROWN_RADIUS_M:g} m wide where not given (common practice, no source)."
        )
    if counts["tree rows"]:
        yield f"{counts['tree rows']} rows of trees drawn as a line were left out."
    if counts["footways"]:
        yield f"{counts['footways']} footways and streets, {counts['footways without width']} of them without a width."
    if counts["ways hidden"]:
        yield f"{counts['ways hidden']} ways in tunnels, below ground or indoors were left out."
    if counts["passages"]:
        yield f"{counts['passages']} ways run under cover: a spot there needs its roof noted."
    if counts["lamps"]:
        yield f"{counts['lamps']} street lamps."
    if counts["hints"]:
        what = "stops, stations, schools and markets"
        yield f"{counts['hints']} {what}, as notes beside who comes by; they are never counts."
    if counts["comforts"]:
        yield f"{counts['comforts']} toilets, shelters and cafés, for the map sketch of a workshop."
