"""Map tiles from outside: none unless switched on in the settings; what may be chosen, and what it costs in privacy."""

from __future__ import annotations

from urllib.parse import urlsplit

import xyzservices.providers
from xyzservices import TileProvider

OFFERED = ("OpenStreetMap.Mapnik", "OpenStreetMap.HOT", "OpenTopoMap")
"""Providers that ask for no key; names and attribution as xyzservices has them."""
SUBDOMAINS = "abc"
"""Leaflet's own default, which folium leaves in place."""


def provider(name: str) -> TileProvider | None:
    """The provider switched on, None for no name or one not offered."""
    return xyzservices.providers.query_name(name) if name in OFFERED else None


def origins(name: str) -> tuple[str, ...]:
    """Where the provider's images come from, as a content policy writes it: 'https://tile.example.org'."""
    chosen = provider(name)
    if chosen is None:
        return ()
    hosts = {
        urlsplit(chosen.build_url(x=0, y=0, z=0, scale_factor="", s=letter, fill_subdomain=False))
        for letter in SUBDOMAINS
    }
    return tuple(sorted(f"{host.scheme}://{host.netloc}" for host in hosts))


def choices() -> tuple[tuple[str, str], ...]:
    """(name, host words) for the settings page."""
    return tuple((name, ", ".join(urlsplit(origin).netloc for origin in origins(name))) for name in OFFERED)
