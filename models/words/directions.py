"""Signs that turn the direction of writing, taken out of what others are told: one in a name would turn all behind it.

Letters from the right need none of them: they turn by themselves (Unicode Standard Annex 9, section 2).
"""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

T = TypeVar("T")

TURNING = (*range(0x202A, 0x202F), *range(0x2066, 0x206A))
"""Embeddings, overrides and isolates, and what ends them (Unicode Standard Annex 9, section 2)."""

_GONE = dict.fromkeys(TURNING)


def unturned(text: str) -> str:
    """The text without them."""
    return text.translate(_GONE)


def all_unturned(told: T) -> T:
    """The same of every text in a dataclass or tuple, all the way down."""
    return _unturned(told)  # type: ignore[no-any-return]


def _unturned(value: Any) -> Any:
    if isinstance(value, str):
        return unturned(value)
    if isinstance(value, tuple):
        return tuple(map(_unturned, value))
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{each.name: _unturned(getattr(value, each.name)) for each in fields(value)})
    return value
