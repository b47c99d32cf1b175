"""Which time zone a place lies in. The only importer of tzfpy."""

from __future__ import annotations

from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from tzfpy import get_tz


def zone_at(latitude_deg: float, longitude_deg: float) -> str:
    """IANA name of the zone there, 'UTC' far out at sea. Borders are simplified: let the user override."""
    name = get_tz(longitude_deg, latitude_deg)
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError):
        return "UTC"
    return name
