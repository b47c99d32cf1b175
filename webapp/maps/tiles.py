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
    tiles = [urlsplit(chosen.build_url(x=0, y=0, z=0, subdomains=letter)) for letter in SUBDOMAINS]
    return tuple(sorted({f"{tile.scheme}://{tile.netloc}" for tile in tiles}))


def choices() -> tuple[tuple[str, str], ...]:
    """(name, host) for the settings page."""
    hosts = {name: urlsplit(xyzservices.providers.query_name(name)["url"]).netloc for name in OFFERED}
    return tuple((name, host.removeprefix("{s}.")) for name, host in hosts.items())
