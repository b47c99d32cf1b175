"""Can this flash beat the light there: everything pages and the terminal import for it."""

from __future__ import annotations

from models.light.battery import BatterySet
from models.light.exposure import START, EvFigure, Settings
from models.light.kit import Camera, Choice, Flash, Gel, Modifier, Trigger

__all__ = [
    "START",
    "BatterySet",
    "Camera",
    "Choice",
    "EvFigure",
    "Flash",
    "Gel",
    "Modifier",
    "Settings",
    "Trigger",
]
