"""Inputs that the drawing tests share: an invented lane, its day and its year."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import numpy as np

from models.clock import local_day, unix_s
from models.drawing.day_strip import DayMoment, DayStrip, LightBand, StateRun
from models.drawing.pavement_section import Asked, PavementSection
from models.drawing.plan_parts import PlanLight, PlanPavement, PlanSun, PlanView
from models.drawing.scale import Scale, lay_scale
from models.drawing.skyline_strip import Crown, Edge, HandPoint, HourMark, SkylineStrip, SunMoment
from models.drawing.svg import Sheet, Width
from models.drawing.way_sketch import WaySketch
from models.drawing.week_grid import GridCell, WeekGrid
from models.drawing.year_map import ClockChange, YearMap, YearMoment
from models.street.clearance import Pavement

HOSTILE = """<script>alert(1)</script> "x" 'y' & ]]> \x00\x0b\ud800 Gasse"""
ZONE = "Europe/Amsterdam"
AUTUMN = date(2026, 10, 17)


def lane(**changes: object) -> SkylineStrip:
    """Two rows, one of assumed height, a stretch measured by hand, leaves, a roof, an open end to the south-east."""
    bearing = (np.arange(720) + 0.5) / 2
    elevation = 30 + 30 * np.abs(np.sin(np.radians(bearing)))
    elevation[(bearing > 130) & (bearing < 150)] = 0.0
    edge = np.full(720, Edge.SURVEYED, np.int8)
    edge[(bearing > 180) & (bearing < 220)] = Edge.ASSUMED
    edge[(bearing > 290) & (bearing < 320)] = Edge.MEASURED
    azimuth = np.linspace(90, 270, 145)
    height = 55 * np.sin(np.radians(azimuth - 90)) - 4
    states = ("open", "leaves", "behind", "unsure")
    hours = tuple(HourMark(f"{6 + k}", 90 + 15.0 * k, float(height[12 * k]), states[k % 4]) for k in range(13))
    moment = SunMoment(217.5, 41.0, "behind", ("16:40 CEST", "41° up", "behind the west row"))
    crowns = (Crown(100, 128, 5, 40), Crown(350, 10, 30, 90, "roof"), Crown(60, 70, 5, 20, "bare"))
    points = (HandPoint(295, 59), HandPoint(300, 57), HandPoint(310, 54))
    given: dict[str, object] = {
        "title": "Skyline at Foundry Lane",
        "desc": "Walls 30 to 60 degrees high all round but to the south-east.",
        "elevation_deg": elevation,
        "doubt_deg": np.full(720, 2.0),
        "edge": edge,
        "path_azimuth_deg": azimuth,
        "path_elevation_deg": height,
        "hours": hours,
        "moment": moment,
        "crowns": crowns,
        "points": points,
        "looking_deg": 270.0,
    }
    return SkylineStrip(**(given | changes))  # type: ignore[arg-type]


def day(on: date = AUTUMN, zone: str = ZONE, **changes: object) -> DayStrip:
    """From dark to dark over sun and shade, in quarter hours, with the moment at 16:40."""
    start, end = local_day(on, zone)
    count = round((unix_s(end) - unix_s(start)) / 900) + 1
    at = unix_s(start) + 900.0 * np.arange(count)
    share = (at - at[0]) / (at[-1] - at[0])
    face = 2 + 10 * np.clip(2 * np.sin(np.pi * share) - 0.6, 0, 1) + np.where(np.abs(share - 0.55) < 0.06, 2.5, 0)
    behind = face + np.where(np.abs(share - 0.55) < 0.06, -1.5, 1.0)

    def instant(part: float) -> datetime:
        return start + (end - start) * part

    turns = (0.0, 0.25, 0.29, 0.31, 0.49, 0.52, 0.61, 0.74, 0.77, 0.82, 1.0)
    names = ("dark", "lamps", "dusk", "shade", "leaves", "sun", "shade", "unsure", "lamps", "dark")
    runs = (StateRun(instant(a), instant(b), s) for a, b, s in zip(turns[:-1], turns[1:], names, strict=True))  # type: ignore[arg-type]
    figures = ("16:40 CEST", "face EV 11.2 ± 0.7", "behind EV 11.4 ± 0.8", "+1.7 stops in hand")
    given: dict[str, object] = {
        "title": "The day at Foundry Lane",
        "desc": "Sun from 13:00 to 14:40, else open shade.",
        "start": start,
        "end": end,
        "zone": zone,
        "unix_s": at,
        "face_ev": face,
        "face_doubt": np.full(count, 0.7),
        "behind_ev": behind,
        "behind_doubt": np.full(count, 0.8),
        "behind_words": "behind, looking west",
        "limit_ev": 13.1,
        "reserve_stops": 13.1 - np.maximum(face, behind),
        "reserve_doubt": np.full(count, 0.8),
        "states": tuple(runs),
        "bands": (
            LightBand(instant(0.31), instant(0.36), "golden hour", True),
            LightBand(instant(0.72), instant(0.77), "golden hour", True),
            LightBand(instant(0.28), instant(0.3), "blue hour", True),
        ),
        "moment": DayMoment(start + timedelta(hours=16, minutes=40), figures),
    }
    return DayStrip(**(given | changes))  # type: ignore[arg-type]


def year(quantity: str = "reserve", **changes: object) -> YearMap:
    """A year of 2026, bright at midday, longer in summer, the spring gap left out."""
    days, hours = np.arange(365)[:, None], (np.arange(96)[None, :] + 0.5) / 4
    half = 6 - 2.5 * np.cos(2 * np.pi * (days + 10) / 365)
    values = 14 - 1.6 * np.maximum(np.abs(hours - 13) - half + 3, 0) ** 1.2
    if quantity == "reserve":
        values = 12.5 - values
    values[87, 8:12] = np.nan
    given: dict[str, object] = {
        "title": "The year at Foundry Lane",
        "desc": "Most in hand in the morning.",
        "first_day": date(2026, 1, 1),
        "values": values,
        "quantity": quantity,
        "sunrise_hour": (13 - half).ravel(),
        "sunset_hour": (13 + half).ravel(),
        "zone_words": "CET, CEST in summer",
        "clock_changes": (ClockChange(87, "clocks forward 29 Mar"), ClockChange(297, "clocks back 25 Oct")),
        "moment": YearMoment(289, 16 + 2 / 3, ("Sat 17 Oct, 16:40 CEST", "+1.7 stops in hand")),
    }
    return YearMap(**(given | changes))  # type: ignore[arg-type]


def section(**changes: object) -> PavementSection:
    """A pavement of 3.6 m with a door, a station 1.2 m deep and two widths asked for."""
    given: dict[str, object] = {
        "title": "The pavement at Foundry Lane",
        "desc": "A station 1.20 m deep leaves 1.35 m of 3.60 m.",
        "pavement": Pavement(3.6, 1.2, door_m=0.6),
        "figures": ("1.35 m left for walkers", "tight"),
        "asked": (
            Asked(2.0, ("UK footway, normal minimum", "2.00 m", "0.65 m short")),
            Asked(1.22, ("US public right-of-way", "1.22 m")),
        ),
    }
    return PavementSection(**(given | changes))  # type: ignore[arg-type]


def week(**changes: object) -> WeekGrid:
    """Counted on two kinds of day, at few hours and at busy ones."""

    def cell(value: int, low: int, high: int) -> GridCell:
        return GridCell(value, low, high, f"{value:,}", f"{low:,}–{high:,}")

    weekdays = {9: (60, 40, 85), 10: (90, 70, 115), 16: (240, 195, 290), 18: (410, 350, 480)}
    saturdays = {11: (420, 360, 490), 14: (980, 900, 1060), 15: (12400, 11500, 13300)}
    given: dict[str, object] = {
        "title": "Who comes by at Foundry Lane",
        "desc": "Busiest on Saturdays from 15 to 16 h. Not counted on Sundays.",
        "columns": ("weekdays", "Saturdays", "Sundays and holidays"),
        "cells": {(0, hour): cell(*figures) for hour, figures in weekdays.items()}
        | {(1, hour): cell(*figures) for hour, figures in saturdays.items()}
        | {(1, 10): GridCell(0, 0, 8, "0", "up to 8")},
        "chosen": (1, 15),
        "figures": ("Saturday, 15 to 16 h", "about 12,400 people an hour"),
    }
    return WeekGrid(**(given | changes))  # type: ignore[arg-type]


def plan(**changes: object) -> PlanView:
    """A boxed key in a hand, a bare fill, a gridded edge on a stand; the wall to the left, low sun from the right."""
    given: dict[str, object] = {
        "title": "Plan of key, fill and edge",
        "desc": "The camera looking up the sheet.",
        "lights": (
            PlanLight("key", "key, half past 1, 2 paces", "key: half past 1, 2 paces", -45, 1.5, None, 0.4, True),
            PlanLight("fill", "fill, 11 o'clock, 3 paces", "fill: 11 o'clock, 3 paces", 30, 2.3, 60.0, 0.1, True),
            PlanLight("edge", "edge, 7 o'clock, 3 paces", "edge: 7 o'clock, 3 paces", 150, 2.3, 20.0, 0.1, False),
        ),
        "camera_m": 3.0,
        "view_deg": 39.6,
        "camera_words": "camera, 4 paces, takes in 40°",
        "sun": PlanSun(80.0, "sun, from camera right, 12° up", 8.0, "the model's shadow, 8.0 m"),
        "pavement": PlanPavement(-92.0, 1.6, 4.4, 1.5, "2.45 m left for walkers"),
        "figures": ("16:40", "the model stands in the sun", "2.45 m left for walkers"),
        "notes": ("The pavement is 6 m wide; the setup keeps to the wall.",),
    }
    return PlanView(**(given | changes))  # type: ignore[arg-type]


def way(**changes: object) -> WaySketch:
    """From a lane round a corner to a yard, houses on both sides."""
    houses = tuple(
        ((x, y), (x + 22.0, y), (x + 22.0, y + 14.0), (x, y + 14.0))
        for x in (-60.0, -20.0, 20.0)
        for y in (-40.0, 12.0, 60.0)
    )
    given: dict[str, object] = {
        "title": "The walk from Foundry Lane to Market Square",
        "desc": "4 minutes on foot: 210 m along footways.",
        "way": ((-70.0, -10.0), (8.0, -8.0), (10.0, 80.0)),
        "known": True,
        "start": "Foundry Lane",
        "goal": "Market Square, by the pump",
        "outlines": houses,
    }
    return WaySketch(**(given | changes))  # type: ignore[arg-type]


def at(year_: int, month: int, day_: int, hour: int, minute: int = 0) -> datetime:
    return datetime(year_, month, day_, hour, minute, tzinfo=UTC)


def scale_key(scale: Scale, width: Width) -> str:
    """The key of a scale alone on its sheet."""
    sheet = Sheet(width, "key")
    return sheet.finish(lay_scale(sheet, scale, 0, 4), f"The scale of {scale.unit}", " to ".join(scale.ends))
