"""Wording that no screen, paper or letter may carry: the program never says that something may be done."""

from __future__ import annotations

import re

_DOING = r"(?:shoot|film|photograph|teach|set up|set it up|put|place|stand|use|work|start|begin|go|bring|gather|run)"
_NOT_NEEDED = r"(?:need(?:ed)?|required?|necessary|wanted|asked for)"
_PAPER = r"(?:permission|permits?|licen[cs]es?|consent|enquiry)"

FORBIDDEN: tuple[re.Pattern[str], ...] = tuple(
    re.compile(pattern)
    for pattern in (
        r"\ballow(?:ed|able|s you|s it|s this|ance to)\b",
        r"\blegal(?:ly)?\b",
        r"\blawful(?:ly)?\b",
        r"\bok(?:ay)?\b|\bo\.k\.",
        r"(?<!\bnot )(?<!\bnot be )(?<!\bno longer )(?<!\brecorded as )\bpermitted\b",
        r"\bpermits (?:you|it|this|us|stands?|groups?)\b",
        r"\bpermissible\b",
        r"\byou may\b(?! (?:not|need|have to|be asked|be moved)\b)",
        rf"\b(?:you|we) can (?:now |just |simply )?{_DOING}\b",
        r"\bfree to\b|\bfeel free\b",
        rf"\bno {_PAPER} (?:is |are |was )?{_NOT_NEEDED}\b",
        rf"\b(?:need|needs|require|requires) no {_PAPER}\b",
        rf"\b{_PAPER} (?:is |are )?not {_NOT_NEEDED}\b",
        rf"\b(?:do not|does not|don't|doesn't|need not|without) (?:need |require |any |a |have |ask for )*{_PAPER}\b",
        rf"\b(?:you|we) have {_PAPER}\b",
        r"\b(?:fine|good|safe|all right|alright|clear|open) to (?!close\b)" + _DOING,
        r"\b(?:is|are|it's|that's) (?:fine|all right|alright|acceptable|in order)\b",
        r"\bcleared\b|\ball clear\b|\bgood to go\b|\bgo ahead\b|\bgreen light\b",
        r"\bapproved\b|\bauthori[sz]ed\b|\bentitled\b|\bunrestricted\b",
        r"\bno (?:restrictions?|objections?|need to ask|one to ask)\b|\bnobody to ask\b|\bnothing to ask\b",
        r"\bneed not (?:ask|be asked)\b|\bwithout asking\b",
        r"\b(?:have|has|within) (?:the|a|your|every|our) rights?\b",
    )
)
"""Looked for in lower case, with single spaces and plain apostrophes."""


def forbidden_in(text: str) -> list[str]:
    """What of the text may not be said, as found; [] where there is nothing."""
    plain = " ".join(text.casefold().replace("’", "'").split())
    return [found[0] for pattern in FORBIDDEN for found in pattern.finditer(plain)]
