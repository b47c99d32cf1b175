"""A reader of iCalendar by the letter of RFC 5545, written for the tests alone; section numbers are of that document.

It refuses what the grammar refuses, so that a file which it reads is one that calendars import.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

LONGEST_LINE_OCTETS = 75  # section 3.1, without the line break
_PARAMETER = r";[A-Za-z0-9-]+=(?:\"[^\"]*\"|[^\",;:]*)"
_LINE = re.compile(rf"(?P<name>[A-Za-z0-9-]+)(?P<parameters>(?:{_PARAMETER})*):(?P<value>.*)", re.DOTALL)
_FORBIDDEN = re.compile(r"[\x00-\x08\x0a-\x1f\x7f]")  # section 3.1: CONTROL, all but HTAB
TEXTS = ("SUMMARY", "DESCRIPTION", "LOCATION", "UID", "X-WR-CALNAME", "PRODID", "TZNAME")
_OBSERVANCE = ("DTSTART", "TZOFFSETFROM", "TZOFFSETTO")
ONCE = {  # sections 3.6, 3.6.1, 3.6.5 and 3.6.6
    "VCALENDAR": ("PRODID", "VERSION"),
    "VEVENT": ("UID", "DTSTAMP", "DTSTART"),
    "VALARM": ("ACTION", "TRIGGER", "DESCRIPTION"),
    "VTIMEZONE": ("TZID",),
    "STANDARD": _OBSERVANCE,
    "DAYLIGHT": _OBSERVANCE,
}
AT_MOST_ONCE = {
    "VCALENDAR": ("CALSCALE", "METHOD"),
    "VEVENT": (
        *("DTEND", "DESCRIPTION", "SUMMARY", "SEQUENCE", "STATUS", "TRANSP", "URL"),
        *("GEO", "LOCATION", "ORGANIZER"),
    ),
    "VALARM": (),
    "VTIMEZONE": (),
    "STANDARD": ("TZNAME",),
    "DAYLIGHT": ("TZNAME",),
}
SHAPES = {
    "VERSION": r"2\.0",
    "DTSTAMP": r"\d{8}T\d{6}Z",  # section 3.8.7.2: in UTC
    "SEQUENCE": r"\d+",
    "STATUS": r"TENTATIVE|CONFIRMED|CANCELLED",
    "TRANSP": r"OPAQUE|TRANSPARENT",
    "ACTION": r"DISPLAY",
    "TRIGGER": r"[+-]?P(?:\d+W|\d+D(?:T(?:\d+H)?(?:\d+M)?(?:\d+S)?)?|T(?:\d+H)?(?:\d+M)?(?:\d+S)?)",  # section 3.3.6
    "URL": r"[A-Za-z][A-Za-z0-9+.-]*:[\x21-\x7e]*",
    "CALSCALE": r"GREGORIAN",
    "METHOD": r"PUBLISH|CANCEL",
    "GEO": r"-?\d{1,2}(?:\.\d+)?;-?\d{1,3}(?:\.\d+)?",  # section 3.8.1.6: latitude;longitude
    "TZOFFSETFROM": r"[+-]\d{4}(?:\d{2})?",  # section 3.3.14
    "TZOFFSETTO": r"[+-]\d{4}(?:\d{2})?",
}
TIMES = {  # sections 3.3.4 and 3.3.5: a day, a time in UTC, a time of a zone that is named
    r";VALUE=DATE": r"\d{8}",
    r"": r"\d{8}T\d{6}Z",
    r";TZID=[^;:,\"]+": r"\d{8}T\d{6}",
}


@dataclass
class Part:
    """A component: its properties by name with their parameters, and what is in it."""

    kind: str
    values: dict[str, list[tuple[str, str]]] = field(default_factory=dict)
    parts: list[Part] = field(default_factory=list)

    def __getitem__(self, name: str) -> str:
        ((value, _),) = self.values[name]
        return value


def read_calendar(raw: bytes) -> Part:
    """The calendar; AssertionError says which rule of the document it breaks."""
    open_parts, whole = [], None
    for line in _unfolded(raw):
        found = _LINE.fullmatch(line)
        assert found, f"3.1: no content line: {line!r}"
        name, value = found["name"].upper(), found["value"]
        if name == "BEGIN":
            open_parts.append(Part(value))
        elif name == "END":
            part = open_parts.pop()
            assert part.kind == value, "3.4: an END of another component"
            _whole(part)
            (open_parts[-1].parts.append(part) if open_parts else None)
            whole = part
        else:
            assert not _FORBIDDEN.search(value), f"3.1: control character in {line!r}"
            text = _text(value) if name in TEXTS else value
            open_parts[-1].values.setdefault(name, []).append((text, found["parameters"]))
    assert whole is not None
    assert not open_parts, "3.4: a component without its END"
    return whole


def _unfolded(raw: bytes) -> list[str]:
    assert raw.endswith(b"\r\n"), "3.1: the last line has no CRLF"
    assert b"\r" not in raw.replace(b"\r\n", b""), "3.1: a CR by itself"
    assert b"\n" not in raw.replace(b"\r\n", b""), "3.1: a LF by itself"
    lines = raw[:-2].split(b"\r\n")
    assert max(map(len, lines)) <= LONGEST_LINE_OCTETS, "3.1: a line of more than 75 octets"
    for line in lines:
        line.decode("utf-8")  # 3.1.4; and no sign is cut in two
    return re.sub(rb"\r\n[ \t]", b"", raw[:-2]).decode("utf-8").split("\r\n")


def _text(value: str) -> str:
    """Section 3.3.11: commas, semicolons and backslashes are escaped, a new line is \\n."""
    assert re.fullmatch(r"(?:[^\\,;]|\\[\\,;nN])*", value), f"3.3.11: not escaped: {value!r}"
    return re.sub(r"\\(.)", lambda found: "\n" if found[1] in "nN" else found[1], value)


def _whole(part: Part) -> None:
    for name in ONCE[part.kind]:
        assert len(part.values.get(name, ())) == 1, f"3.6: {part.kind} needs one {name}"
    for name in AT_MOST_ONCE[part.kind]:
        assert len(part.values.get(name, ())) <= 1, f"3.6: {part.kind} has two {name}"
    known = {*ONCE[part.kind], *AT_MOST_ONCE[part.kind]}
    assert {name for name in part.values if not name.startswith("X-")} <= known, "3.6: a property that is not for it"
    for name, shape in SHAPES.items():
        for value, parameters in part.values.get(name, ()):
            assert re.fullmatch(shape, value), f"3.8: {name} is {value!r}"
            assert parameters == "", f"3.2: {name}{parameters}"
    for name in ("DTSTART", "DTEND"):
        for value, parameters in part.values.get(name, ()):
            shapes = {"": r"\d{8}T\d{6}"} if part.kind in ("STANDARD", "DAYLIGHT") else TIMES
            fits = [shape for given, shape in shapes.items() if re.fullmatch(given, parameters)]
            assert fits, f"3.2: {name}{parameters}"
            assert re.fullmatch(fits[0], value), f"3.8: {name}{parameters} is {value!r}"


def instant(calendar: Part, event: Part, name: str) -> datetime:
    """The instant (UTC) of DTSTART or DTEND, by the file's own VTIMEZONE (section 3.6.5) and nothing else."""
    ((value, parameters),) = event.values[name]
    if value.endswith("Z"):
        return datetime.strptime(value, "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
    (zone,) = [part for part in calendar.parts if part.kind == "VTIMEZONE" and part["TZID"] == parameters[6:]]
    local = _wall(value)
    found = (
        (_wall(part["DTSTART"]) - _offset(part["TZOFFSETFROM"]), _offset(part["TZOFFSETTO"])) for part in zone.parts
    )
    onsets = sorted(found)
    for place, (onset, offset) in enumerate(onsets):
        at = local - offset
        if onset <= at and (place + 1 == len(onsets) or at < onsets[place + 1][0]):
            return at.replace(tzinfo=UTC)  # 3.3.5: the first of two
    raise AssertionError(f"3.3.5: no clock of {zone['TZID']} shows {value}")


def _wall(value: str) -> datetime:
    return datetime.strptime(value, "%Y%m%dT%H%M%S")  # noqa: DTZ007  a clock on the wall


def _offset(value: str) -> timedelta:
    hours, minutes, seconds = (int(value[k : k + 2] or 0) for k in (1, 3, 5))
    return (1 if value[0] == "+" else -1) * timedelta(hours=hours, minutes=minutes, seconds=seconds)
