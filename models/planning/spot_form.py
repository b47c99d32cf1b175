"""A spot as typed in a form: every field read, every problem named at once, nothing half-saved."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields
from decimal import Decimal

from models.exchange.zones import zone_at
from models.planning.places import read_place
from models.planning.sentence import read_distance, read_looking
from models.problems import InputProblem, InputProblems, noted
from models.street.scene import Canopy, SkylinePoint
from models.street.spot import SpotDraft, checked
from models.street.surfaces import GROUNDS, WALLS, Surface

TEXTS = (
    "name", "wall_surface", "ground_surface", "footfall_note", "shade_note", "surface_note", "hazards", "facilities",
    "controller", "notes",
)  # fmt: skip
"""Fields taken as they are typed; spots that came from a file have surfaces of their own words."""

Read = Callable[[str], object]


def read_spot_form(form: Mapping[str, str]) -> SpotDraft:
    """The spot a form describes. Raises InputProblems with a message beside each field that needs another look."""
    problems: dict[str, str] = {}
    values: dict[str, object] = {field: form.get(field, "") for field in TEXTS}
    for field, reader in {**_place_readers(form), **_READERS}.items():
        with noted(problems, field):
            values[field] = reader(form.get(field, ""))
    with noted(problems, "place"):
        values |= _place(form)
    if not problems:
        try:
            return checked(SpotDraft(**values))  # type: ignore[arg-type]
        except InputProblem as problem:
            problems[problem.field.split()[0]] = problem.message
    raise InputProblems(problems)


def spot_form_of(draft: SpotDraft) -> dict[str, str]:
    """What the form shows for a spot; read back it gives the same spot. A surface's own figure is left empty."""
    shown = {field.name: _shown(getattr(draft, field.name)) for field in fields(SpotDraft)}
    for side, surfaces in (("wall", WALLS), ("ground", GROUNDS)):
        own = _reflectance(f"{side}_reflectance", "", shown[f"{side}_surface"], surfaces)
        if own == getattr(draft, f"{side}_reflectance"):
            shown[f"{side}_reflectance"] = ""
    shown["canopies"] = "\n".join(map(canopy_text, draft.canopies))
    shown["measured"] = "\n".join(f"{_plain(p.bearing_deg)} {_plain(p.elevation_deg)}" for p in draft.measured)
    shown["place"] = f"{_plain(draft.latitude_deg)}, {_plain(draft.longitude_deg)}"
    return shown


def read_measured(text: str) -> tuple[SkylinePoint, ...]:
    """Hand-measured points, one a line: bearing and height of the skyline in degrees, like '225 38'."""
    return tuple(SkylinePoint(*_numbers("measured", line, 2, "a bearing and a height")) for line in _lines(text))


def read_canopies(text: str) -> tuple[Canopy, ...]:
    """Canopies, one a line: bearings from-to, heights from-to, light let through in leaf and bare, months, name."""
    return tuple(map(_canopy, _lines(text)))


def canopy_text(canopy: Canopy) -> str:
    """A canopy as its line of the form."""
    months = ",".join(map(str, canopy.leaf_months)) or "-"
    bearings = f"{_plain(canopy.bearing_from_deg)}-{_plain(canopy.bearing_to_deg)}"
    elevations = f"{_plain(canopy.elevation_from_deg)}-{_plain(canopy.elevation_to_deg)}"
    shares = f"{_plain(canopy.transmittance_leaf)}; {_plain(canopy.transmittance_bare)}"
    return f"{bearings}; {elevations}; {shares}; {months}; {' '.join(canopy.name.split())}"


def _canopy(line: str) -> Canopy:
    parts = [part.strip() for part in line.split(";", 5)]
    if len(parts) != 6:
        raise InputProblem(
            "canopies",
            f"“{line}” needs six parts between semicolons, like 200-290; 20-60; 0.3; 0.67; 5,6,7,8,9,10; limes",
        )
    (left, right), (low, high) = (
        _numbers("canopies", part.replace("-", " "), 2, "two degrees, from-to") for part in parts[:2]
    )
    (leaf,), (bare,) = (_numbers("canopies", part, 1, "a share of light, 0 to 1") for part in parts[2:4])
    months = _numbers("canopies", parts[4].strip("-").replace(",", " "), wanted="months, 1 to 12")
    if not all(month in range(1, 13) for month in months):
        raise InputProblem("canopies", f"“{parts[4]}” should hold months, 1 to 12.")
    return Canopy(left, right, low, high, leaf, bare, tuple(map(int, months)), parts[5] or "trees")


def _lines(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]


def _numbers(field: str, text: str, count: int | None = None, wanted: str = "numbers") -> list[float]:
    try:
        numbers = [float(part) for part in text.replace("°", " ").split()]
    except ValueError:
        raise InputProblem(field, f"“{text}” should hold {wanted}.") from None
    if count is not None and len(numbers) != count:
        raise InputProblem(field, f"“{text}” should hold {wanted}.")
    return numbers


def _place(form: Mapping[str, str]) -> dict[str, object]:
    latitude_deg, longitude_deg = read_place(form.get("place", ""))
    zone = form.get("zone", "").strip() or zone_at(latitude_deg, longitude_deg)
    return {"latitude_deg": latitude_deg, "longitude_deg": longitude_deg, "zone": zone}


def _place_readers(form: Mapping[str, str]) -> dict[str, Read]:
    """A chosen surface brings its published reflectance unless a figure is typed."""
    return {
        "wall_reflectance": lambda text: _reflectance("wall_reflectance", text, form.get("wall_surface", ""), WALLS),
        "ground_reflectance": lambda text: _reflectance(
            "ground_reflectance", text, form.get("ground_surface", ""), GROUNDS
        ),
    }


def _reflectance(field: str, text: str, chosen: str, surfaces: tuple[Surface, ...]) -> float:
    if text.strip():
        return _number(field, text)
    return next((surface.reflectance for surface in surfaces if surface.key == chosen), surfaces[0].reflectance)


def _number(field: str, text: str) -> float:
    return _numbers(field, text.strip(), 1, "one number")[0]


def _metres(field: str) -> Read:
    def read(text: str) -> float | None:
        return _length(field, text) if text.strip() else None

    return read


def _length(field: str, text: str) -> float:
    try:
        return _number(field, text.lower().removesuffix("m"))
    except InputProblem:
        try:
            return read_distance(text)
        except InputProblem:
            raise InputProblem(field, f"“{text}” is not a length. Type it like 3.5 m or 11 ft.") from None


def _shown(value: object) -> str:
    if value is None:
        return ""
    return _plain(value) if isinstance(value, float) else str(value)


def _plain(number: float) -> str:
    """All of the number's own digits, without an exponent and without an idle '.0'."""
    return f"{Decimal(repr(float(number))):f}".removesuffix(".0")


_READERS: dict[str, Read] = {
    "floor_m": lambda text: _length("floor_m", text) if text.strip() else 0.0,
    "roof": lambda text: text.strip() or "none",
    "pavement_width_m": _metres("pavement_width_m"),
    "turbidity": lambda text: _number("turbidity", text) if text.strip() else 3.0,
    "lighting_class": lambda text: text.strip() or None,
    "night_ev100": lambda text: _number("night_ev100", text) if text.strip() else None,
    "looking_deg": read_looking,
    "canopies": read_canopies,
    "measured": read_measured,
}
