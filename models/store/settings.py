"""What the organiser may set, with what holds until they do."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite
from typing import Any
from urllib.parse import urlsplit

import sqlalchemy as sa
from sqlalchemy.orm import Session

from models.problems import InputProblem
from models.rules.working_days import calendar_of
from models.store.types import metadata
from models.street.spot import readable
from models.words.enquiry_letter import LANGUAGES

LONGEST_TEXT = 200
MET_NORWAY = "https://api.met.no/weatherapi/locationforecast/2.0/compact"
"""The Norwegian Meteorological Institute's open forecast for the whole world (address from memory)."""

settings = sa.Table(
    "settings",
    metadata,
    sa.Column("name", sa.Text, primary_key=True),
    sa.Column("value", sa.JSON, nullable=False),
)


@dataclass(frozen=True, slots=True)
class Setting:
    """read turns a JSON value into the one kept, or raises ValueError with what to give instead."""

    default: Any
    words: str
    read: Callable[[Any], Any]


def _between(lowest: float, highest: float) -> Callable[[Any], float]:
    def read(value: Any) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value):
            raise ValueError("give a number")
        if not lowest <= value <= highest:
            raise ValueError(f"give {lowest:g} to {highest:g}")
        return float(value)

    return read


def _band(value: Any) -> list[float]:
    """Two heights of the sun, degrees, rising."""
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise ValueError("give two heights of the sun, the lower first")
    low, high = (_between(-18.0, 30.0)(height) for height in value)
    if low >= high:
        raise ValueError("give the lower height of the sun first")
    return [low, high]


def _text_or_nothing(value: Any) -> str | None:
    if value is None or value == "":
        return None
    if not isinstance(value, str) or len(value) > LONGEST_TEXT:
        raise ValueError(f"give a text of at most {LONGEST_TEXT} characters, or nothing")
    return readable("text", value).strip() or None


def _text(value: Any) -> str:
    return _text_or_nothing(value) or ""


def _place(value: Any) -> str:
    """A code of ISO 3166 whose holidays are known, or nothing."""
    typed = _text(value)
    try:
        return calendar_of(typed.upper()).place
    except InputProblem:
        return calendar_of(typed).place  # a few parts of countries have small letters


_CONTACT = re.compile(r"[^@\s/:]+@[^@\s/:.]+(?:\.[^@\s/:.]+)*|https?://[^\s/@.]+[^\s@]*", re.IGNORECASE)


def _contact(value: Any) -> str | None:
    """An e-mail or web address that fits in the head of a request."""
    contact = _text_or_nothing(value)
    if contact and not (contact.isascii() and contact.isprintable() and _CONTACT.fullmatch(contact)):
        raise ValueError("give an e-mail address like you@example.org, or the address of a page about you")
    return contact


def _switch(value: Any) -> str:
    if value not in ("on", "off"):
        raise ValueError("say on or off")
    return str(value)


def _service(value: Any) -> str:
    """The address of a forecast service: https, but for one on this machine."""
    address = _text(value) or MET_NORWAY
    try:
        parts = urlsplit(address)
        port, host = parts.port, parts.hostname or ""
    except ValueError:
        raise ValueError("give an address like https://forecast.example/2.0/compact") from None
    if parts.scheme not in ("https", "http") or not host or port == 0 or not _plain(address):
        raise ValueError("give an address like https://forecast.example/2.0/compact")
    if parts.scheme == "http" and host not in ("127.0.0.1", "localhost", "::1"):
        raise ValueError("give an https address: where a spot lies goes there")
    if parts.username is not None or parts.password is not None or parts.query or parts.fragment:
        raise ValueError("give the address alone, with no name, password or question mark in it")
    return address


def _plain(address: str) -> bool:
    return address.isascii() and address.isprintable() and " " not in address


def _by_month(value: Any) -> list[float] | None:
    """Twelve figures of oktas, January first, or nothing."""
    if value is None or value == []:
        return None
    if not isinstance(value, list | tuple) or len(value) != 12:
        raise ValueError("give twelve figures, January to December, or nothing")
    return [_between(0.0, 8.0)(oktas) for oktas in value]


def _language(value: Any) -> str:
    language = _text(value)
    if language not in LANGUAGES:
        raise ValueError(f"give one of {', '.join(LANGUAGES)}")
    return language


SETTINGS: dict[str, Setting] = {
    "golden_limits": Setting([-4.0, 6.0], "sun heights between which it is golden hour, degrees", _band),
    "blue_limits": Setting([-6.0, -4.0], "sun heights between which it is blue hour, degrees", _band),
    "lighting_up_deg": Setting(-3.0, "height of the sun at which street lamps come on, degrees", _between(-12.0, 5.0)),
    "storey_height_m": Setting(3.2, "height of a storey where only storeys are recorded, metres", _between(2.0, 6.0)),
    "assumed_height_m": Setting(12.0, "height of a building where nothing is recorded, metres", _between(2.0, 100.0)),
    "turbidity": Setting(3.0, "haze of a clear sky for a new spot, Linke turbidity", _between(1.0, 12.0)),
    "tiles": Setting(None, "whose map pictures lie under the map; nothing for none", _text_or_nothing),
    "geocoder_contact": Setting(None, "how a search service can reach you; nothing for no search", _contact),
    "forecast": Setting("off", "whether a forecast may be fetched, on or off", _switch),
    "forecast_contact": Setting(None, "how the forecast service can reach you", _contact),
    "forecast_address": Setting(MET_NORWAY, "where forecasts come from; nothing for MET Norway", _service),
    "cloud_by_month": Setting(None, "usual eighths of cloud, January to December; nothing for none", _by_month),
    "erase_after_days": Setting(30.0, "days after a workshop until its people are erased", _between(0.0, 730.0)),
    "holidays": Setting("", "whose public holidays count in deadlines, ISO 3166; nothing for weekends only", _place),
    "organiser": Setting("", "who asks: the name under letters", _text),
    "organiser_contact": Setting("", "how an office can reach you: below the name under letters", _text),
    "language": Setting("en", "language of letters", _language),
}
"""Golden and blue hour: no standard, these limits are common. Lamps, storeys, heights: common practice, no source."""


def get_setting(s: Session, name: str) -> Any:
    """The value as set, else the default: numbers, text, None, or a list of two heights."""
    default = _known(name).default
    found = s.execute(sa.select(settings.c.value).where(settings.c.name == name)).one_or_none()
    return default if found is None else found.value


def all_settings(s: Session) -> dict[str, Any]:
    """Every setting by name, in the order of SETTINGS."""
    kept: dict[str, Any] = {row.name: row.value for row in s.execute(sa.select(settings))}
    return {name: kept.get(name, setting.default) for name, setting in SETTINGS.items()}


def put_setting(s: Session, name: str, value: Any) -> None:
    """InputProblem names the setting where the value does not fit."""
    try:
        good = _known(name).read(value)
    except InputProblem as problem:
        raise InputProblem(name, problem.message) from problem
    except ValueError as problem:
        raise InputProblem(name, str(problem)) from problem
    s.execute(sa.delete(settings).where(settings.c.name == name))
    s.execute(sa.insert(settings).values(name=name, value=good))


def _known(name: str) -> Setting:
    try:
        return SETTINGS[name]
    except KeyError:
        raise InputProblem(name, f"no such setting; there are {', '.join(SETTINGS)}") from None
