"""A setup as typed in a form: every field read, every problem named at once."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from math import isfinite
from typing import Any, TypeVar, cast

from models.light.exposure import START, Settings
from models.light.placing import axis_deg_of
from models.light.power import Power, rung
from models.light.series import shutter_words, stops_words
from models.light.setup import MOST_LIGHTS, Role
from models.light.wanted import FARTHEST_M, Wanted
from models.planning.sentence import read_distance, read_stops
from models.planning.setups.kit import FIELDS, WholeKit, setup_of
from models.problems import InputProblem, InputProblems
from models.store.setups import LightDraft, SetupDraft, checked_setup
from models.words.setup import clock_words

NUMBERS = tuple(range(1, MOST_LIGHTS + 1))
STOPS = ("ratio_stops", "edge_stops", "hair_stops", "background_stops")
_CLOCK = re.compile(r"(?:(?P<half>half past )?(?P<hour>\d{1,2})(?:[:.](?P<minutes>\d{2}))?)(?: ?o'?clock)?$")
_FRACTION = re.compile(
    r"(?P<rung>{0})(?: ?\+ ?(?P<more>{0})(?: ?stops?)?)?$".format(r"\d{1,5}(?:/\d{1,5}|\.\d{1,6})?"), re.ASCII
)
_DEGREES = re.compile(r"(?P<size>-?\d{1,3}(?:\.\d+)?) ?°?(?: (?P<side>left|right))?$")
Value = TypeVar("Value")


class _Problems(dict[str, str]):
    """By field, what is wrong with it."""

    def read(self, field: str, reader: Callable[[str], Value], text: str, default: Value) -> Value:
        """What is read, or the default where nothing is typed or it is wrong, which is noted."""
        if not text.strip():
            return default
        try:
            return reader(text)
        except InputProblem as problem:
            self[field] = problem.message
            return default


def read_setup_form(form: Mapping[str, str], whole: WholeKit) -> SetupDraft:
    """The setup a form describes. Raises InputProblems with a message beside each field that needs another look."""
    problems = _Problems()
    lights = tuple(_light(form, n, problems) for n in NUMBERS if form.get(f"light_{n}_role", "").strip())
    draft = SetupDraft(
        title=form.get("title", ""),
        camera=form.get("camera", "").strip(),
        trigger=form.get("trigger", "").strip(),
        settings=_settings(form, problems),
        wanted=_wanted(form, problems),
        surroundings_under=_stops(form, "surroundings_under", 2 / 3, problems),
        face_under=_stops(form, "face_under", 2 / 3, problems),
        camera_m=_length(form, "camera_m", 3.0, problems),
        lens_mm=problems.read("lens_mm", lambda text: _number(text, "mm"), form.get("lens_mm", ""), 50.0),
        lights=lights,
        notes=form.get("notes", ""),
    )
    if problems:
        raise InputProblems(problems)
    try:
        good = checked_setup(draft)
        setup_of(good, whole)
    except InputProblem as problem:
        raise InputProblems({_numbered(problem.field, form): problem.message}) from problem
    return good


def setup_form_of(draft: SetupDraft) -> dict[str, str]:
    """What the form shows for a setup; read back it gives the same one."""
    wanted = draft.wanted
    shown = {
        "title": draft.title,
        "camera": draft.camera,
        "trigger": draft.trigger,
        "shutter_s": shutter_words(draft.settings.shutter_s),
        "aperture": f"f/{draft.settings.aperture:.3g}",
        "iso": f"{draft.settings.iso:.0f}",
        "surroundings_under": _stops_text(draft.surroundings_under),
        "face_under": _stops_text(draft.face_under),
        "ratio": wanted.ratio,
        **{name: _stops_text(getattr(wanted, name)) for name in STOPS},
        "stay_at": "" if wanted.aperture is None else f"f/{wanted.aperture:.3g}",
        "farthest_m": _plain(wanted.farthest_m),
        "camera_m": _plain(draft.camera_m),
        "lens_mm": _plain(draft.lens_mm),
        "notes": draft.notes,
    }
    for number, light in enumerate(draft.lights, start=1):
        shown |= {f"light_{number}_{name}": text for name, text in _light_texts(light).items()}
    return shown


def new_setup_form(whole: WholeKit) -> dict[str, str]:
    """A key alone, from the first of the kit and the usual start."""
    kit = whole.owned
    if not kit.flashes or not kit.cameras:
        return setup_form_of(SetupDraft(title="", camera=""))
    battery = kit.batteries[0].id if kit.batteries else ""
    key = LightDraft(role="key", flash=kit.flashes[0].id, axis_deg=-45.0, battery=battery)
    trigger = kit.triggers[0].id if kit.triggers else ""
    return setup_form_of(SetupDraft(title="", camera=kit.cameras[0].id, trigger=trigger, lights=(key,)))


def understood(form: Mapping[str, str]) -> dict[str, str]:
    """By field, how what was typed is taken; what is empty or cannot be read is left out."""
    problems, said = _Problems(), {}
    for field in ("camera_m", *(f"light_{n}_{name}" for n in NUMBERS for name in ("distance_m", "height_m"))):
        if form.get(field, "").strip() and (metres := _length(form, field, 0.0, problems)):
            said[field] = f"{metres:.2f} m"
    for number in NUMBERS:
        field = f"light_{number}_axis_deg"
        if form.get(field, "").strip():
            degrees = problems.read(field, read_axis, form[field], 0.0)
            if field not in problems:
                side = "right" if degrees > 0 else "left"
                said[field] = f"{abs(degrees):g}° to camera {side}" if degrees else "at the camera"
    return said


def read_axis(text: str) -> float:
    """Degrees off the camera axis from a place on the model's clock ('10', '10:30', 'half past 10'), or degrees
    ('45° left', '-45°')."""
    typed = text.strip().lower().replace("−", "-").replace("’", "'")
    found = _CLOCK.match(typed)
    if found and "°" not in typed and 1 <= int(found["hour"]) <= 12 and int(found["minutes"] or 0) < 60:
        hours = int(found["hour"]) % 12 + int(found["minutes"] or 0) / 60 + (0.5 if found["half"] else 0)
        return axis_deg_of(hours)
    degrees = _DEGREES.match(typed)
    if not degrees or not ("°" in typed or degrees["side"]) or abs(float(degrees["size"])) > 180:
        raise InputProblem("axis_deg", f"“{text}” is no place on the clock. Type it like 10, 10:30 or 45° left.")
    size = float(degrees["size"])
    return -abs(size) if degrees["side"] == "left" else abs(size) if degrees["side"] == "right" else size


def axis_text(axis_deg: float) -> str:
    """How a place is typed: by the clock where it stands on a half hour, else in degrees."""
    half_hours = -axis_deg / 15
    if abs(half_hours - round(half_hours)) < 1e-6:
        return clock_words(round(half_hours) % 24)
    return f"{_plain(abs(axis_deg))}° {'right' if axis_deg > 0 else 'left'}"


def read_fraction(text: str) -> float:
    """'1/4', '1/4 + 1/3 stop', '0.25', 'full' or 'off'."""
    typed = text.strip().lower().removesuffix(" s").removesuffix("s").strip()
    words = {"full": 1.0, "off": 0.0}
    if typed in words:
        return words[typed]
    found = _FRACTION.match(typed.replace(",", "."))
    try:
        parts = [Fraction(part) for part in (found["rung"], found["more"] or "0")] if found else []
    except ZeroDivisionError:
        parts = []
    if not parts:
        raise InputProblem("power", f"“{text}” is not a fraction. Type it like 1/4.")
    return float(parts[0]) * 2 ** float(parts[1])


def _light(form: Mapping[str, str], number: int, problems: _Problems) -> LightDraft:
    def typed(name: str) -> str:
        return form.get(f"light_{number}_{name}", "").strip()

    def read(name: str, reader: Callable[[str], Any], default: Any) -> Any:
        return problems.read(f"light_{number}_{name}", reader, typed(name), default)

    usual = LightDraft(role="key", flash="")
    return LightDraft(
        role=cast(Role, typed("role")),  # checked_setup refuses other words
        **{name: typed(name) for name in FIELDS},
        units=read("units", _count, 1),
        zoom_mm=read("zoom_mm", lambda text: _number(text, "mm"), None),
        distance_m=read("distance_m", read_distance, usual.distance_m),
        height_m=read("height_m", read_height, usual.height_m),
        axis_deg=read("axis_deg", read_axis, usual.axis_deg),
        power=read("power", read_fraction, usual.power),
        held=typed("held") != "no",
    )


def read_height(text: str) -> float:
    """Metres above the ground, 0 too."""
    if text.strip().lower().removesuffix("m").strip() in ("0", "0.0"):
        return 0.0
    try:
        return float(text.strip().lower().removesuffix("m").replace(",", "."))
    except ValueError:
        return read_distance(text)


def _light_texts(light: LightDraft) -> dict[str, str]:
    return {
        "role": light.role,
        **{name: getattr(light, name) for name in FIELDS},
        "units": str(light.units),
        "zoom_mm": "" if light.zoom_mm is None else _plain(light.zoom_mm),
        "distance_m": _plain(light.distance_m),
        "height_m": _plain(light.height_m),
        "axis_deg": axis_text(light.axis_deg),
        "power": _power_text(light.power),
        "held": "yes" if light.held else "no",
    }


def _settings(form: Mapping[str, str], problems: _Problems) -> Settings:
    shutter = problems.read("shutter_s", read_fraction, form.get("shutter_s", ""), START.shutter_s)
    aperture = problems.read("aperture", _aperture, form.get("aperture", ""), START.aperture)
    iso = problems.read("iso", lambda text: _number(text, "iso"), form.get("iso", ""), START.iso)
    for field, value, low, high in (("shutter_s", shutter, 1 / 16000, 60.0), ("iso", iso, 25.0, 1e6)):
        if not low <= value <= high:
            problems[field] = "Type it like 1/125." if field == "shutter_s" else "Type it like 200."
    return START if problems else Settings(shutter, aperture, iso)


def _wanted(form: Mapping[str, str], problems: _Problems) -> Wanted:
    usual = Wanted()
    stops = {name: _stops(form, name, getattr(usual, name), problems) for name in STOPS}
    aperture = problems.read("stay_at", _aperture, form.get("stay_at", ""), 0.0) or None
    farthest = _length(form, "farthest_m", FARTHEST_M, problems)
    ratio = form.get("ratio", "").strip() or usual.ratio
    try:
        return replace(usual, ratio=ratio, aperture=aperture, farthest_m=farthest, **stops)  # type: ignore[arg-type]
    except InputProblem as problem:
        problems["stay_at" if problem.field == "aperture" else problem.field] = problem.message
        return usual


def _stops(form: Mapping[str, str], field: str, default: float, problems: _Problems) -> float:
    return problems.read(field, lambda text: read_stops(field, text), form.get(field, ""), default)


def _length(form: Mapping[str, str], field: str, default: float, problems: _Problems) -> float:
    reader = read_height if field.endswith("height_m") else read_distance
    return problems.read(field, reader, form.get(field, ""), default)


def _aperture(text: str) -> float:
    value = _number(text.lower().replace("f/", "").replace("f", ""), "")
    if not 0.7 <= value <= 64:
        raise InputProblem("aperture", f"“{text}” is not an f-number. Type it like f/5.6.")
    return value


def _number(text: str, unit: str) -> float:
    try:
        value = float(text.strip().lower().replace(unit, "").replace(",", ".") if unit else text.replace(",", "."))
    except ValueError:
        value = float("nan")
    if not isfinite(value):
        raise InputProblem("number", f"“{text}” is not a number.")
    return value


def _count(text: str) -> int:
    if not re.fullmatch(r"[1-9]\d?", text.strip()):
        raise InputProblem("units", f"“{text}” is not a number of flashes.")
    return int(text)


def _numbered(field: str, form: Mapping[str, str]) -> str:
    """The field of the form: lights left empty in between are not counted by the draft."""
    found = re.match(r"light_(\d)_(.*)", field)
    used = [n for n in NUMBERS if form.get(f"light_{n}_role", "").strip()]
    return f"light_{used[int(found[1]) - 1]}_{found[2]}" if found and len(used) >= int(found[1]) else field


def _power_text(power: float) -> str:
    """As on a ladder in halves or thirds of a stop, else with its digits."""
    if not power:
        return "off"
    for per_stop in (3, 2):
        found = rung(Power(power, START), 1 / 4096, per_stop)
        if abs(found.remainder_stops) < 1e-6:
            return found.words
    return f"{power:.4g}"


def _stops_text(stops: float) -> str:
    nearest = Fraction(stops).limit_denominator(3)
    return stops_words(stops).replace("−", "-") if abs(nearest - stops) < 1e-6 else f"{stops:.3g}"


def _plain(value: float) -> str:
    return f"{value:.3f}".rstrip("0").rstrip(".")
