"""One setup in a light: whether it works, what to dial, each light's figures, warnings, heat, the plan, the working."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from models.light.exposure import START
from models.light.heat import flashes_in_a_row, heat_ways, steady_every_s
from models.light.power import Power, fraction_words, rung
from models.light.setup import Light, LightFigures, Setup, SetupFigures, power_at_sync, setup_figures
from models.light.setup_warnings import warnings_of
from models.light.solve import Solved
from models.planning.answers import Moment, RestsOn
from models.planning.moments import moment_words
from models.planning.sentence import bearing_words
from models.planning.setups.kit import WholeKit, kit_notes, setup_of, whole_kit
from models.planning.setups.lit import Lit, read_lit, solved_in
from models.planning.setups.plan import plan_of, street_of
from models.planning.setups.planned import Planned, read_planned
from models.planning.setups.tries import TryShown, tries_shown
from models.planning.spot_answers import Drawing
from models.store.engine import Store
from models.store.setups import KeptSetup
from models.store.spots import Spot
from models.words import setup as words
from models.words import spot as spot_words
from models.words.said import Said, ev_words, said
from models.words.setup_answer import kept_answer, light_names, rung_said, solved_answer
from models.words.setup_warnings import warning_words
from models.words.sources import SOURCES

ON_A_RUNG_STOPS = 0.02
"""A power kept this near a rung is told as that rung, as it is for what is found."""

FLASH_ALONE = "Flash alone: no spot is chosen and no EV typed, so the light already there is left out."


@dataclass(frozen=True, slots=True)
class LightShown:
    """One light in words. number: from 1. dialled: the power found for it. lines: its figures."""

    number: int
    name: str
    place: str
    kit: str
    kept_power: str
    dialled: str
    cannot: str
    lines: tuple[str, ...]
    heat: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SetupPage:
    """Everything about a setup in a light. gone: kit that is missing, in words; without it there are no figures. shown:
    "dialled" as found, or "kept". takes: what is found differs from what is kept."""

    setup: KeptSetup
    spot: Spot | None
    moment: Moment | None
    looking: str
    answer: Said
    gone: tuple[str, ...]
    retired: tuple[str, ...]
    planned: Planned
    settings: str
    shown: str
    takes: bool
    lights: tuple[LightShown, ...]
    together: tuple[str, ...]
    warnings: tuple[str, ...]
    plan: Drawing | None
    working: tuple[str, ...]
    rests_on: RestsOn | None
    sources: tuple[tuple[str, str], ...]
    solved: Solved | None
    figures: SetupFigures | None
    tries: tuple[TryShown, ...] = ()
    heat_rule: str = words.HEAT_RULE


def setup_page(
    store: Store, kept: KeptSetup, asked: Mapping[str, str], spot: Spot | None, moment: Moment | None
) -> SetupPage:
    """asked: the light (`looking`, `ev`, `behind`), what is planned (`pace`, `frames`, `wind`), `shown`.

    Raises InputProblem naming a parameter, or InsideBuilding.
    """
    whole, lit = whole_kit(store), read_lit(store, asked, spot, moment)
    planned = read_planned(asked)
    gone, retired = kit_notes(kept, whole)
    if gone:
        return replace(_without_kit(kept, lit, gone, retired, planned), tries=tries_shown(store, kept, None))
    setup = setup_of(kept, whole)
    solved = solved_in(setup, kept.wanted, lit)
    as_kept = asked.get("shown") == "kept"
    looked_at = setup if as_kept else solved.setup
    figures = setup_figures(looked_at, lit.subject, lit.behind)
    return SetupPage(
        setup=kept,
        spot=spot,
        moment=lit.moment,
        looking=_looking(lit),
        answer=_place(lit) + (kept_answer(setup, figures) if as_kept else solved_answer(solved)),
        gone=gone,
        retired=retired,
        planned=planned,
        settings=looked_at.settings.words,
        shown="kept" if as_kept else "dialled",
        takes=_differs(setup, solved),
        lights=tuple(_lights(setup, solved, figures, planned)),
        together=tuple(words.setup_lines(figures)),
        warnings=_warnings(kept, looked_at, None if as_kept else solved, whole, lit, planned),
        plan=plan_of(kept, looked_at, lit),
        working=tuple(_working(looked_at, figures, lit)),
        rests_on=lit.now.rests_on if lit.now else None,
        sources=SOURCES if lit.now else (),
        solved=solved,
        figures=figures,
        tries=tries_shown(store, kept, None if spot else setup),
    )


def _without_kit(
    kept: KeptSetup, lit: Lit, gone: tuple[str, ...], retired: tuple[str, ...], planned: Planned
) -> SetupPage:
    answer = said("No figures: ", "kit that this setup names is gone", ". Choose other kit for it.")
    rest = (None, lit.now.rests_on if lit.now else None)
    return SetupPage(
        kept, lit.spot, lit.moment, _looking(lit), answer, gone, retired, planned, kept.settings.words, "kept", False,
        (), (), (), rest[0], (), rest[1], (), None, None,
    )  # fmt: skip


def _looking(lit: Lit) -> str:
    return "" if lit.looking_deg is None else bearing_words(lit.looking_deg)


def _place(lit: Lit) -> Said:
    """Where and when, and how bright it is there."""
    if lit.now and lit.spot and lit.moment:
        behind = lit.behind.ev100 if lit.behind else None
        state = said(f"{moment_words(lit.moment)}. {lit.spot.name} is ", lit.now.state_words, ".")
        doubt = lit.now.subject.doubt_stops
        return state + spot_words.brightness(lit.now.subject.ev100, doubt, behind, _looking(lit), "") + said(" ")
    if lit.subject is None:
        return said(f"{FLASH_ALONE} ")
    behind_said = f" and {ev_words(lit.behind.ev100)} behind it" if lit.behind else ", nothing said of what is behind"
    return said("Typed in: ", ev_words(lit.subject.ev100), f" on the face{behind_said}. ")


def _differs(setup: Setup, solved: Solved) -> bool:
    if setup.settings != solved.setup.settings:
        return True
    pairs = zip(setup.lights, solved.setup.lights, strict=True)
    return any(abs(a.power - b.power) > 1e-9 or abs(a.distance_m - b.distance_m) > 1e-9 for a, b in pairs)


def _lights(setup: Setup, solved: Solved, figures: SetupFigures, planned: Planned) -> Iterator[LightShown]:
    several = zip(light_names(setup), setup.lights, solved.lights, figures.lights, strict=True)
    for number, (name, light, one, figure) in enumerate(several, start=1):
        yield LightShown(
            number=number,
            name=name,
            place=words.place_words(figure.light).partition(", ")[2],
            kit=_kit_said(light),
            kept_power=_power_said(light),
            dialled=rung_said(one),
            cannot=words.cannot_words(one) if one.cannot_stops else "",
            lines=tuple(_figure_lines(figure)),
            heat=tuple(_heat_lines(figure.light, setup, planned)),
        )


def _power_said(light: Light) -> str:
    if not light.power:
        return "off"
    found = rung(Power(light.power, START), light.flash.lowest_power, light.flash.rungs_per_stop)
    return found.words if abs(found.remainder_stops) < ON_A_RUNG_STOPS else fraction_words(light.power)


def _kit_said(light: Light) -> str:
    """'small flash, with a grid, 1/2 orange gel, held'."""
    parts = [f"{light.units} × {light.flash.name}" if light.units > 1 else light.flash.name]
    parts += [piece.name for piece in (light.modifier, light.grid) if piece is not None]
    parts += [f"{light.gel.name} gel"] if light.gel else []
    parts += [f"zoom {light.zoom_mm:g} mm" if light.zoom_mm else "head wide"]
    parts[0] = f"{parts[0][:1].upper()}{parts[0][1:]}"
    return ", ".join([*parts, "in a hand" if light.held else f"on {light.stand.name if light.stand else 'a stand'}"])


def _figure_lines(figure: LightFigures) -> Iterator[str]:
    yield words.gives_words(figure)
    if figure.beam is not None:
        yield words.beam_words(figure.beam)
    else:
        yield "How wide its beam falls is not known: note the angle with the modifier in the kit."
    if figure.looks is not None:
        yield words.looks_words(figure.looks)
    else:
        yield "How large it looks from the face is not known: note the size of the modifier's face in the kit."
    yield words.ready_words(figure)
    if figure.reserve is not None:
        stops = figure.reserve.stops
        hand = "in hand" if stops >= 0 else "too little"
        yield f"By itself at full power it has {words.stops_said(abs(stops))} {hand}."
    if note := figure.light.flash.guide_note:
        yield note


def _heat_lines(light: Light, setup: Setup, planned: Planned) -> Iterator[str]:
    if not light.power:
        return
    if not light.flash.heat:
        yield "No printed heat limit is noted for this flash."
        return
    row = flashes_in_a_row(light.flash, light.power, planned.pace_s)
    yield words.in_a_row_words(row, planned.pace_s)
    if steady := steady_every_s(light.flash, light.power):
        yield f"One every {steady:.0f} s never meets it."
    ways = heat_ways(
        light.flash, light.power, planned.pace_s, planned.frames, sync_power=power_at_sync(light, setup), spare=True
    )
    yield from map(words.heat_way_words, ways)


def _warnings(
    kept: KeptSetup, setup: Setup, solved: Solved | None, whole: WholeKit, lit: Lit, planned: Planned
) -> tuple[str, ...]:
    found = warnings_of(
        setup,
        solved=solved,
        filters=whole.owned.filters,
        pace_s=planned.pace_s,
        frames=planned.frames,
        wind_m_s=planned.wind_m_s,
        street=street_of(kept, setup, lit),
        looking_deg=lit.looking_deg,
    )
    return tuple(warning_words(one, setup) for one in found)


def _working(setup: Setup, figures: SetupFigures, lit: Lit) -> Iterator[str]:
    """The formulas with the numbers of this setup in them."""
    settings = setup.settings
    if lit.subject is not None:
        under = settings.ev100 - lit.subject.ev100
        exposed = f"log2({settings.aperture:g}² / {settings.shutter_s:.4g} s) − log2({settings.iso:g} / 100)"
        yield f"Settings expose for {exposed} = {ev_words(settings.ev100)}"
        yield f"Light already on the face: 2^(EV of the face − EV of the settings) = 2^({-under:.2f}) = {2**-under:.2f}"
    for name, one in zip(light_names(setup), figures.lights, strict=True):
        light = one.light
        yield (
            f"{name}: {one.guide.metres:.1f} m × √({settings.iso:g} / 100) × √{light.power:.4g} / "
            f"{light.distance_m:.2f} m = f/{one.aperture:.2f}; its share of the exposure is "
            f"({one.aperture:.2f} / {settings.aperture:g})² = {one.share:.2f}"
        )
