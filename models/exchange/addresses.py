"""Addresses looked up at OpenStreetMap's Nominatim through geopy. Asks the network: only when somebody presses."""

from __future__ import annotations

from dataclasses import dataclass

from geopy.exc import GeopyError
from geopy.geocoders import Nominatim

from models.problems import InputProblem

TIMEOUT_S = 8
MOST_ANSWERS = 5


@dataclass(frozen=True, slots=True)
class Found:
    """A place that an address may mean, in the service's own words."""

    words: str
    latitude_deg: float
    longitude_deg: float


def ask_nominatim(address: str, contact: str) -> tuple[Found, ...]:
    """At most MOST_ANSWERS places, best first; none is an answer. Raises InputProblem('address', ...) when it fails.

    The service asks for an identifying contact, at most one request a second, and that answers are kept.
    """
    service = Nominatim(user_agent=f"kerbstand ({contact})", timeout=TIMEOUT_S)
    try:
        answers = service.geocode(address, exactly_one=False, limit=MOST_ANSWERS)
    except GeopyError:
        raise InputProblem(
            "address", "The address service did not answer. Try later, or paste the coordinates instead."
        ) from None
    return tuple(Found(place.address, place.latitude, place.longitude) for place in answers or ())
