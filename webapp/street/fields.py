"""The fields of the street's forms."""

from __future__ import annotations

from webapp.spots.fields import Field

COUNT_FIELDS = (
    Field("number", "How many", "short", hint="Like 42, or 20 parties."),
    Field("minutes", "In minutes", "short"),
    Field("day", "Day", hint="Like 2026-10-17, 17.10. or 17 Oct."),
    Field("clock", "From", "short", hint="Local time at the spot."),
    Field("whence", "Who counted", hint="A name, or the file it is from."),
    Field("note", "Note", hint="Rain, a market, a train."),
)

WEATHER_FIELDS = (
    Field("oktas", "Cloud", "short", "of 8 covered", "Or like 60 %, overcast."),
    Field("wind_m_s", "Wind", "short", "", "In m/s, or like 18 km/h, 11 mph, 4 bft."),
    Field("gust_m_s", "Gusts", "short", "", "In m/s, or like 32 km/h, 5 bft."),
    Field("temperature_c", "Temperature", "short", "", "In °C, or like 68 F."),
    Field("humidity_pct", "Humidity", "short", "%"),
    Field("rain_mm", "Rain in the hour", "short", "", "In mm, or like 0.1 in."),
)
ONE_HOUR_FIELDS = (
    Field("day", "Day", hint="Like 2026-10-17, 17.10. or 17 Oct."),
    Field("clock", "From", "short", hint="The full hour, local time."),
    *WEATHER_FIELDS,
    Field("whence", "Who says so", hint="Empty: by hand."),
)
HOURS_FIELDS = (
    *ONE_HOUR_FIELDS[:2],
    Field("hours", "For", "short", "hours", "Alike for all of them."),
    *ONE_HOUR_FIELDS[2:],
)
_THERE = (("", "nobody has looked"), ("yes", "yes, it is there"), ("no", "no, looked and not there"))
_LOOKED = {
    "carriageway": "A carriageway beside it",
    "cycle_lane": "A cycle lane",
    "railway": "Railway, tram, platform",
    "water": "Water's edge",
    "drop": "A drop, steps, parapet",
    "uneven": "Kerbs, steps, uneven ground",
}
LOOKED_FIELDS = tuple(Field(name, label, "choice", choices=_THERE) for name, label in _LOOKED.items())
CALL_FIELDS = (
    Field("emergency_number", "Emergency number", "short", hint="112 in the European Union."),
    Field("first_aider", "First-aider", hint="Who knows first aid, and where the kit is."),
    Field("ambulance_address", "Address for an ambulance", "wide", hint="Street, number, corner, where to turn in."),
)
