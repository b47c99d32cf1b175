"""Waypoints and routes as GPX 1.1, for hand-held receivers and walking apps (topografix.com/GPX/1/1, gpx.xsd)."""

from __future__ import annotations

import re
from collections.abc import Sequence
from xml.etree import ElementTree as ET

from models.exchange.places import DECIMALS, Way, Waypoint
from models.workshop.briefing import Place

NAMESPACE = "http://www.topografix.com/GPX/1/1"
INSTANCE = "http://www.w3.org/2001/XMLSchema-instance"
CREATOR = "Kerbstand"
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")  # XML 1.0 section 2.2


def write_gpx(name: str, waypoints: Sequence[Waypoint], ways: Sequence[Way]) -> bytes:
    """The file in UTF-8: elements in the order that the schema asks for, all text escaped."""
    root = ET.Element("gpx", {
        "version": "1.1", "creator": CREATOR, "xmlns": NAMESPACE, "xmlns:xsi": INSTANCE,
        "xsi:schemaLocation": f"{NAMESPACE} {NAMESPACE}/gpx.xsd",
    })  # fmt: skip
    _text(ET.SubElement(root, "metadata"), "name", name)
    for each in waypoints:
        point = _point(root, "wpt", each.place.longitude_deg, each.place.latitude_deg)
        _named(point, each.place)
        _text(point, "type", each.kind)
    for way in ways:
        if len(way.line) > 1:
            route = ET.SubElement(root, "rte")
            _text(route, "name", way.name)
            _text(route, "type", way.kind)
            for longitude_deg, latitude_deg in way.line:
                _point(route, "rtept", longitude_deg, latitude_deg)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{ET.tostring(root, encoding="unicode")}\n'.encode()


def _point(parent: ET.Element, tag: str, longitude_deg: float, latitude_deg: float) -> ET.Element:
    """A longitude of 180 is -180 there: the schema leaves the upper end out."""
    longitude = round(longitude_deg, DECIMALS)
    longitude = -180.0 if longitude >= 180 else longitude
    at = {"lat": f"{latitude_deg:.{DECIMALS}f}", "lon": f"{longitude:.{DECIMALS}f}"}
    return ET.SubElement(parent, tag, at)


def _named(point: ET.Element, place: Place) -> None:
    _text(point, "name", place.name)
    if place.words:
        _text(point, "desc", place.words)


def _text(parent: ET.Element, tag: str, words: str) -> None:
    ET.SubElement(parent, tag).text = _NOT_XML.sub("?", words)
