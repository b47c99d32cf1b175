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
