"""The one table of kit: its kinds, and of each its fields with label, unit, how it is read, written and said.

Forms, lists and CSV files follow from it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from typing import Any, Literal, get_args

from models.exchange import kit as files
from models.light.kit import ModifierKind
from models.planning.gear import typed
from models.planning.rules.typed import read_yes
from models.planning.sentence import read_stops
from models.problems import InputProblem
from models.street.spot import LONGEST_NAME, readable

NEEDED = object()
Read = Callable[[str, str], Any]
"""(field, text) to a value; raises InputProblem."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GearField:
    """One field. default: what an empty field means, NEEDED where it must be given. said: how it was understood.

    short: its heading in a list, empty where it is not listed.
    """

    name: str
    label: str
    read: Read
    write: Callable[[Any], str] = str
    said: Callable[[Any], str] | None = None
    kind: Literal["short", "line", "wide", "text", "choice"] = "line"
    unit: str = ""
    hint: str = ""
    short: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    default: Any = NEEDED

    def text(self, value: Any) -> str:
        """As it may be typed again; nothing for what is not known."""
        return "" if value is None else self.write(value)

    def words(self, value: Any) -> str:
        """The value with its unit, 'not known' for none."""
        if value is None:
            return "not known"
        if self.choices:
            return dict(self.choices).get(self.write(value), self.write(value))
        return self.said(value) if self.said else f"{self.write(value)} {self.unit}".strip()

    def value(self, text: str) -> Any:
        """Raises InputProblem."""
        if text.strip():
            return self.read(self.name, readable(self.name, text))
        if self.default is NEEDED:
            raise InputProblem(self.name, f"{self.label.lower()} is needed.")
        return self.default


@dataclass(frozen=True, slots=True, kw_only=True)
class GearKind:
    """One kind of kit. name: its field of `Kit` and word of the address."""

    name: str
    one: str
    many: str
    hint: str
    piece: type[Any]
    fields: tuple[GearField, ...]


def _plain_text(field: str, text: str) -> str:
    tidy = " ".join(text.split())
    if len(tidy) > LONGEST_NAME:
        raise InputProblem(field, f"{len(tidy)} characters; at most {LONGEST_NAME}.")
    if not tidy.isprintable():
        raise InputProblem(field, "holds a character that cannot be shown; type it again without.")
    return tidy


def _stops(field: str, text: str) -> float:
    value = read_stops(field, text)
    if not 0 <= value < 10:
        raise InputProblem(field, "give the stops it takes, 0 to 10.")
    return value


def _amount(units: dict[str, float], low: float, high: float, like: str) -> Read:
    return lambda field, text: typed.amount(field, text, units, low, high, like)


def _length(low: float, high: float) -> Read:
    return lambda field, text: typed.length(field, text, low, high)


def _whole(low: int, high: int, like: str, word: str = "") -> Read:
    return lambda field, text: typed.whole(field, text, low, high, like, word)


def _picked(choices: tuple[tuple[str, str], ...]) -> Read:
    def read(field: str, text: str) -> str:
        wanted = text.strip().lower()
        found = [key for key, words in choices if wanted in (key, words)]
        if not found:
            raise InputProblem(field, f"“{text}” is none of: {', '.join(key for key, _ in choices)}.")
        return found[0]

    return read


def _yes_text(value: bool) -> str:
    return "yes" if value else "no"


def _stops_words(value: float) -> str:
    return f"{typed.stops_text(value)} {'stop' if value <= 1 else 'stops'}"


def _recycling(value: float) -> str:
    return "as the flash says" if value == 1 else f"{value:g} times as long"


def _degrees(value: float) -> str:
    return f"{value:g} degrees"


def _shutter_words(value: float) -> str:
    return f"{typed.part_text(value)} s"


def _number_field(name: str, label: str, unit: str, read: Read, **others: Any) -> GearField:
    usual: dict[str, Any] = {"kind": "short", "said": lambda value: f"{value:.4g} {unit}".strip()}
    return GearField(name=name, label=label, unit=unit, read=read, write=typed.number_text, **usual | others)


def _stops_field(name: str, label: str, **others: Any) -> GearField:
    return GearField(
        name=name,
        label=label,
        unit="stops",
        read=_stops,
        write=typed.stops_text,
        said=_stops_words,
        kind="short",
        **others,
    )


def _shutter_field(name: str, label: str, **others: Any) -> GearField:
    return GearField(
        name=name, label=label, unit="s", read=typed.shutter, write=typed.part_text, said=_shutter_words, kind="short",
        **others,
    )  # fmt: skip


NAME = GearField(name="name", label="Name", kind="wide", read=_plain_text)
_YES_NO = (("no", "no"), ("yes", "yes"))
_MEASURED = (("no", "only printed"), ("yes", "metered outdoors"))
_RUNGS = (("3", "thirds of a stop"), ("2", "halves of a stop"), ("1", "whole stops"))
_MODIFIERS = tuple((kind, kind) for kind in get_args(ModifierKind))
_SECONDS = {"s": 1.0, **typed.SECONDS}
_MM = {"mm": 1.0}

FLASH = (
    NAME,
    GearField(
        name="guide_numbers", label="Guide number at each zoom", kind="text", read=typed.guide_numbers,
        write=typed.guide_text, said=typed.guide_words, short="Guide number",
        hint="ISO 100, full power, like 24 mm 20, 50 mm 28. Metres; say ft behind the last for feet.",
    ),
    GearField(
        name="measured", label="Where that comes from", kind="choice", choices=_MEASURED, read=read_yes,
        write=_yes_text, hint="Printed ones are taken half a stop low.", default=False,
    ),
    GearField(
        name="lowest_power", label="Lowest power", kind="short", read=typed.power, write=typed.part_text,
        short="Down to", hint="Like 1/128.",
    ),
    GearField(
        name="rungs_per_stop", label="Its power steps by", kind="choice", choices=_RUNGS,
        read=lambda field, text: int(_picked(_RUNGS)(field, text)), default=3,
    ),
    _number_field("recycle_full_s", "Ready again after full power", "s", _amount(_SECONDS, 0.05, 120, "2.9 s"),
                  hint="Fresh rechargeables.", short="Ready after"),
    _shutter_field("clean_sync_s", "Fastest clean speed",
                   hint="The shortest that takes in the whole flash, like 1/250."),
    _stops_field("hss_loss_stops", "High-speed sync costs", hint="Empty if it has none.", default=None),
    GearField(
        name="heat", label="Printed heat limits", kind="text", read=typed.heat_rows, write=typed.heat_text,
        said=typed.heat_words, hint="One a line, like 1/1 to 1/2: 15 flashes, then 10 min. Empty if you have none.",
        default=(),
    ),
    GearField(name="beam_note", label="How its beam looks", kind="wide", read=_plain_text, default=""),
)  # fmt: skip
MODIFIER = (
    NAME,
    GearField(name="kind", label="Kind", kind="choice", choices=_MODIFIERS, read=_picked(_MODIFIERS), short="Kind"),
    _stops_field("loss_stops", "Light it takes", hint="Against the bare head, like 1 1/3.", short="Takes"),
    _number_field("measured_zoom_mm", "Loss is for zoom", "mm",
                  _amount(_MM, typed.LEAST_ZOOM_MM, typed.MOST_ZOOM_MM, "35 mm"),
                  hint="Empty if nobody noted it.", default=None),
    _number_field("beam_deg", "Angle of its beam", "degrees",
                  _amount({"degrees": 1.0, "degree": 1.0, "deg": 1.0, "°": 1.0}, 1, 179, "20 degrees"),
                  hint="The full angle, as printed on a grid.", said=_degrees, short="Beam", default=None),
    GearField(name="face_m", label="Lit face", read=typed.face, write=typed.face_text, said=typed.face_words,
              hint="Like 40 x 60 cm, 24 in, or 0.8 m for a round one.", short="Face", default=None),
    _number_field("weight_kg", "Weight", "kg", _amount(typed.KG, 0.005, 30, "0.6 kg or 600 g"), short="Weighs",
                  default=None),
)  # fmt: skip
CAMERA = (
    NAME,
    _shutter_field("sync_s", "Flash sync", hint="The fastest speed with plain flash, like 1/200.", short="Sync"),
    GearField(name="base_iso", label="Lowest ISO", kind="short", read=_whole(6, 6400, "100", "iso"), short="ISO"),
    GearField(name="highest_iso", label="Highest ISO you would use", kind="short",
              read=_whole(50, 409_600, "6400", "iso"), short="up to ISO"),
    _shutter_field("min_shutter_s", "Fastest shutter", hint="Like 1/4000.", short="Shutter to"),
    _number_field("widest_aperture", "Widest aperture", "", typed.aperture, hint="Like f/2.8.",
                  said=lambda n: f"f/{n:g}", short="Opens to"),
    _number_field("smallest_aperture", "Smallest aperture", "", typed.aperture, hint="Like f/22.",
                  said=lambda n: f"f/{n:g}", short="Stops to"),
)  # fmt: skip
TRIGGER = (
    NAME,
    _shutter_field("sync_s", "Fastest clean speed", hint="Like 1/200.", short="Clean to"),
    GearField(name="passes_hss", label="Passes high-speed sync", kind="choice", choices=_YES_NO, read=read_yes,
              write=_yes_text, short="High-speed sync"),
    GearField(name="channels", label="Channels", kind="short", read=_whole(1, 999, "16"),
              hint="Each station wants its own. Empty if not known.", short="Channels", default=None),
)  # fmt: skip
BATTERY = (
    NAME,
    GearField(name="kind", label="Kind of cells, or external pack", read=_plain_text, short="Kind",
              hint="Like rechargeable, alkaline, external pack."),
    GearField(name="full_flashes", label="Full-power flashes from one set", kind="short",
              read=_whole(1, 100_000, "150"), short="Full flashes"),
    _number_field("recycle_factor", "Multiplies the flash's own recycle time", "times",
                  _amount({"times": 1.0, "x": 1.0}, 0.05, 20, "1.5"), short="Recycles", default=1.0, said=_recycling,
                  hint="1 fresh rechargeables, about 1.7 alkaline, under 1 for a pack."),
)  # fmt: skip
GEL = (
    NAME,
    _stops_field("loss_stops", "Light it takes", hint="Like 1/2 or 0.34.", short="Takes"),
    _number_field("shift_mired", "Shift", "mired", _amount({"mired": 1.0, "mireds": 1.0}, -500, 500, "+109"),
                  hint="Above zero for warmer.", said=lambda n: f"{n:+g} mired".replace("-", "−"), short="Shift"),
)  # fmt: skip
FILTER = (NAME, _stops_field("stops", "Light it takes", hint="Like 3.", short="Takes"))
STAND = (
    NAME,
    _number_field("highest_m", "Highest", "m", _length(0.2, 12), hint="Metres, or like 8 ft.", short="Up to"),
    _number_field("across_m", "Across its open legs", "m", _length(0.1, 5),
                  hint="The circle through its feet.", short="Legs"),
    _number_field("weight_kg", "Weight", "kg", _amount(typed.KG, 0.05, 60, "2 kg or 4 lb"), short="Weighs"),
)  # fmt: skip

_TABLE = {
    "flashes": ("flash", "flashes", "Battery flashes, each with its guide number.", FLASH),
    "modifiers": ("modifier", "modifiers", "What goes before a head: grids, boxes, umbrellas.", MODIFIER),
    "cameras": ("camera", "cameras", "A camera with the lens you use.", CAMERA),
    "triggers": ("trigger", "triggers", "What fires the flash off the camera.", TRIGGER),
    "batteries": ("battery set", "battery sets", "Sets of cells, spare ones and external packs.", BATTERY),
    "gels": ("gel", "gels", "Colour on the flash.", GEL),
    "filters": ("filter", "filters", "Neutral density for the lens.", FILTER),
    "stands": ("stand", "stands", "Light stands; ask about them before they touch the ground.", STAND),
}
KINDS = tuple(
    GearKind(name=kind.name, one=one, many=many, hint=hint, piece=kind.piece, fields=given)
    for kind in files.KINDS
    for one, many, hint, given in (_TABLE[kind.name],)
)
BY_NAME = {kind.name: kind for kind in KINDS}


def covers_all(kind: GearKind) -> bool:
    """Whether the table names each field of the piece but its id."""
    return {field.name for field in kind.fields} == {field.name for field in fields(kind.piece)} - {"id"}
