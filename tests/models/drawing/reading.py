"""Reads a drawing back: its elements by class, the boxes of its texts."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import combinations

from models.drawing.lettering import Box, Place, text_box

SVG = "{http://www.w3.org/2000/svg}"


def parse(drawing: str) -> ET.Element:
    return ET.fromstring(drawing)  # noqa: S314  our own output


def of_class(root: ET.Element, cls: str) -> list[ET.Element]:
    return [element for element in root.iter() if cls in element.get("class", "").split()]


def texts(root: ET.Element) -> list[str]:
    return [element.text or "" for element in root.iter(f"{SVG}text")]


def text_boxes(root: ET.Element) -> dict[str, Box]:
    """Where each text stands, by the widest face; keys are numbered so that equal words both count."""
    boxes = {}
    for index, element in enumerate(root.iter(f"{SVG}text")):
        place = Place(float(element.attrib["x"]), float(element.attrib["y"]), element.get("text-anchor", "start"))  # type: ignore[arg-type]
        words = element.text or ""
        boxes[f"{index} {words}"] = text_box(words, place, bold="font-weight" in element.attrib)
    return boxes


def meeting(root: ET.Element) -> list[tuple[str, str]]:
    """Pairs of texts whose boxes overlap."""
    return [(a, b) for (a, one), (b, two) in combinations(text_boxes(root).items(), 2) if one.meets(two, -0.2)]


def outside(root: ET.Element) -> list[str]:
    """Texts that reach over the drawing's edge."""
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    sheet = Box(-0.1, 0, width + 0.1, height)
    return [words for words, box in text_boxes(root).items() if not box.inside(sheet)]


def numbers(path: str) -> list[float]:
    return [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", path)]


def upright_x(element: ET.Element) -> float:
    """Where an upright line stands."""
    return numbers(element.attrib["d"])[0]
