"""A sentence with its weight: the same words on page, JSON, paper and terminal."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, isfinite


@dataclass(frozen=True, slots=True)
class Said:
    """Parts of (text, strong). `text` is the plain sentence."""

    parts: tuple[tuple[str, bool], ...]

    @property
    def text(self) -> str:
        return "".join(text for text, _ in self.parts)

    def __add__(self, other: Said) -> Said:
        return Said(self.parts + other.parts)


def said(*parts: str) -> Said:
    """Parts in turn plain, strong, plain, strong."""
    return Said(tuple((text, bool(k % 2)) for k, text in enumerate(parts) if text))


def doubt_words(stops: float) -> str:
    """'half a stop', 'three quarters of a stop', 'a stop and a quarter': to the nearest quarter, never under one."""
    quarters = max(1, floor(stops * 4 + 0.5))
    whole, part = divmod(quarters, 4)
    fraction = ("", "a quarter", "half", "three quarters")[part]
    if whole == 0:
        return "half a stop" if part == 2 else f"{fraction} of a stop"
    stops_said = "a stop" if whole == 1 else f"{_count(whole)} stops"
    return stops_said if not part else f"{stops_said} and {'a half' if part == 2 else fraction}"


def ev_words(ev100: float) -> str:
    """'EV 11.2'; the scale is ISO 100 throughout."""
    return f"EV {signed_minus(ev100, 1)}" if isfinite(ev100) else "EV not known"


def stops_in_hand_words(stops: float) -> str:
    """'2.5 stops in hand', 'nothing in hand' or '0.8 stops short'."""
    if stops < -0.05:
        return f"{-stops:.1f} stops short"
    return f"{stops:.1f} stops in hand" if stops >= 0.05 else "nothing in hand"


def signed_minus(value: float, digits: int) -> str:
    """A number with a real minus sign, and no minus before zero."""
    text = f"{value:.{digits}f}"
    return text.replace("-", "−") if float(text) else text.lstrip("-")


def counted(count: int, one: str, many: str = "") -> str:
    """'1 model', '3 models', '1,200 parties'."""
    return f"{count:,} {one if count == 1 else many or f'{one}s'}"


def listed(items: tuple[str, ...] | list[str]) -> str:
    """'a', 'a and b', 'a, b and c'."""
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}" if items else ""


def _count(number: int) -> str:
    words = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
    return words[number] if number < len(words) else str(number)
