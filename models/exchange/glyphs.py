"""Words made ready for the printed page: signs its typefaces lack, words too long for a line, letters from the right.

The typefaces are those inside typst, Libertinus Serif with DejaVu Sans Mono where that has no letter; nothing of the
machine is used, so that a page looks the same everywhere. They hold Latin, Greek, Cyrillic, Armenian,
Hebrew, Arabic and common signs; no emoji, no Chinese, Japanese or Korean.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

MISSING = "□"
"""What stands for a sign that cannot be printed."""

LONGEST_WORD, PIECE = 24, 6
"""Letters: a longer word may be broken after every piece, since it may be wider than its column."""

BREAK_HERE = "\u200b"
LEFT_TO_RIGHT = "\u200e"
_STROKE = "\u0338"
_FROM_RIGHT = ("R", "AL")
_LEFT_OUT = ("Cf", "Mn", "Me")
_SPACE = re.compile(r"\s+")
_ODD = re.compile(r"[^ -~]")
"""What is not plain ASCII."""
_LONG = re.compile(rf"\S{{{LONGEST_WORD + 1},}}")

_RANGES = """
20-7e a0-ac ae-2ff 374-377 37a-37f 384-38a 38c 38e-3a1 3a3-3ce 3d0-3e1 3f0-477 47c-47f 48c-4c4 4c7-4cc 4cf-4f9
510-511 51a-51d 531-556 559-55f 561-587 589-58a 5be 5c0 5c3 5c6 5d0-5ea 5f0-5f4 606-607 609-60a 60c 61b 61f
621-63a 640-64a 660-66d 674 679-67b 67e-680 683-684 686-687 691 698 6a4 6a9 6af 6be 6cc 6f0-6f9 e3f 10d0-10fc
1d02 1d08-1d09 1d14-1d17 1d1d-1d1f 1d2c-1d2e 1d30-1d3c 1d3e-1d5f 1d62-1d67 1d77-1d78 1d7b 1d85 1d9b-1db7
1db9-1dbf 1e00-1f15 1f18-1f1d 1f20-1f45 1f48-1f4d 1f50-1f57 1f59 1f5b 1f5d 1f5f-1f7d 1f80-1fb4 1fb6-1fc4
1fc6-1fd3 1fd6-1fdb 1fdd-1fef 1ff2-1ff4 1ff6-1ffe 2000-200a 2010-2027 202f-2037 2039-203f 2042 2044-204b 204f
205f 2070-2071 2074-208e 2090-209c 20a0-20b5 20b8-20ba 20bd 20bf 2100-2103 2105-2106 2109 210c-210f 2111 2113
2115-2117 2119-211a 211c-211d 2120 2122 2124 2126-2127 212a-212b 212e 2132 2135-2139 2148 214f-2151 2153-2184
2189 2190-222e 2234-223d 2241-226b 226d-228b 228d-22a6 22ac 22b2-22b8 22c2-22c6 22cd-22d1 22da-22ef 2300-2306
2308-2315 2318-2319 231c-2321 2325-232b 2335-237a 237d 2380-2383 2388-238b 2395 239b-23ae 23ce-23cf 23d3 2423
2460-2487 24b6-262f 2638-268b 2690-269c 26a0-26a7 26ac-26b1 2701-2704 2706-2709 270c-2727 2729-274b 274d
274f-2752 2756 2758-275e 2761-277f 2794 2798-27af 27b1-27be 27c2 27c5-27c6 27dc 27e0 27e6-27eb 27f5-27f7
2987-2988 2997-2998 29eb 29fa-29fb 2a00 2a2f 2a6a-2a6b 2b05-2b0d 2b12-2b1a 2c60-2c70 2c74-2c77 2c79-2c7a
2c7c-2c7f 2e02-2e05 2e08-2e0a 2e17-2e18 2e1f 2e22-2e25 2e2e 3000 a656-a657 a708-a716 a71b-a727 a765 a789-a78e
a790-a791 a793 a7aa a7f8-a7f9 ab52 fb01-fb02 fb1d fb1f-fb20 fb29-fb36 fb38-fb3c fb3e fb40-fb41 fb43-fb44
fb46-fb4e fb52-fb81 fb8a-fb95 fb9e-fb9f fbaa-fbad fbe8-fbe9 fbfc-fbff fe70-fe74 fe76-fefc fffc-fffd 1d106-1d107
1d55a 1d670-1d6a3 1d7f6-1d7ff 1f12f
"""
"""Code points, hexadecimal, that typst 0.15 prints: found by setting every one of them. Scripts of which only a part
is there are left out."""


_DRAWN = "20-7e a0-ac ae-24f 384-38a 38c 38e-3a1 3a3-3ce 400-477 490-4c4 5d0-5ea 1e00-1ef9 2010-2027 2030-203a 20ac"
_DRAWN_TOO = "2122 2153-215e 2190-2193 2212 2248 2260 2264-2265 25a1"
"""Of those, what a drawing may hold: signs of the first typeface alone, since a drawing's text that changes typefaces
loses letters. Found by setting many of them together."""


def printable(text: str) -> str:
    """Text on one line, with every sign that can be printed, and MISSING for every other.

    Marks that turn the direction of what follows are left out, and what follows a name written from the right keeps its
    order: two coordinates behind it do not change places.
    """
    held = signs(_SPACE.sub(" ", text).strip())
    return _LONG.sub(lambda found: _broken(found[0]), held if held.isascii() else _in_order(held))


def signs(text: str) -> str:
    """Text as it is, but with signs that can be printed only."""
    return _ODD.sub(lambda found: _sign(found[0]), unicodedata.normalize("NFC", text))


def drawn(text: str) -> str:
    """The same for drawings, which keep to their own lines and to fewer signs. A stroke laid over a sign goes first: it
    would make one of it and the `>` or `=` of a drawing's own marks."""
    kept = _drawn()
    return "".join(sign if ord(sign) in kept or sign == "\n" else MISSING for sign in signs(text.replace(_STROKE, "")))


def lacks(text: str) -> bool:
    """Whether a sign of the text cannot be printed."""
    plain = text.isascii() and text.isprintable()
    return not plain and any(_sign(sign) == MISSING != sign for sign in text if not sign.isspace())


def _sign(sign: str) -> str:
    """A mark that no letter holds within itself is left out: the typefaces may have no place for it."""
    if unicodedata.category(sign) in _LEFT_OUT:
        return ""
    return sign if ord(sign) in _printed() or sign == "\n" else MISSING


def _in_order(text: str) -> str:
    """A mark after the last letter from the right of every stretch before letters from the left. Text with none of
    those is all its writer's own, and left alone."""
    kinds = [unicodedata.bidirectional(sign) for sign in text]
    if "L" not in kinds or not any(kind in _FROM_RIGHT for kind in kinds):
        return text
    held = list(text)
    last = None
    for place, kind in enumerate([*kinds, "L"]):
        if kind in _FROM_RIGHT:
            last = place
        elif kind == "L" and last is not None:
            held[last] += LEFT_TO_RIGHT
            last = None
    return "".join(held)


def _broken(word: str) -> str:
    """A place to break after every piece; no mark that sits on a letter is left in it."""
    return BREAK_HERE.join(word[at : at + PIECE] for at in range(0, len(word), PIECE))


@lru_cache(maxsize=1)
def _printed() -> frozenset[int]:
    return _ranges(_RANGES)


@lru_cache(maxsize=1)
def _drawn() -> frozenset[int]:
    return _ranges(f"{_DRAWN} {_DRAWN_TOO}")


def _ranges(text: str) -> frozenset[int]:
    ends = [[int(end, 16) for end in each.split("-")] for each in text.split()]
    return frozenset(point for each in ends for point in range(each[0], each[-1] + 1))
