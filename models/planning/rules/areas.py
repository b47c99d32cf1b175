"""Rule areas and their rules: the list with its answer, one area, and keeping, changing, deleting, bringing back."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from models.planning.rules.corners import outline_words
from models.planning.rules.far import town_box
from models.planning.rules.rule_rows import RuleRow, contradicted, is_old, rule_rows
from models.rules.areas import KINDS, Area, AreaDraft
from models.rules.rule import Rule, RuleDraft
from models.store import rules as kept
from models.store import spots
from models.store.engine import Store
from models.store.rules.areas import shelf as areas_shelf
from models.store.rules.rules import shelf as rules_shelf
from models.store.versions import Missing
from models.street import town
from models.street.town import Box
from models.words.said import counted

PAGE_SIZE = 50
MOST_SPOTS = 50


@dataclass(frozen=True, slots=True)
class AreaRow:
    """An area in the list. box: south, west, north, east in degrees, for the map."""

    id: int
    name: str
    kind: str
    kind_words: str
    authority: str
    no_passing: bool
    rules: int
    warnings: str
    box: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class SpotRules:
    """The rules that hang on one spot."""

    spot_id: int
    name: str
    rules: tuple[RuleRow, ...]


@dataclass(frozen=True, slots=True)
class AreasPage:
    """The list of areas by name, a page of it, and what hangs on spots. answer: in one or two sentences.

    not_shown: how many more spots have rules of their own.
    """

    answer: str
    areas: tuple[AreaRow, ...]
    on_spots: tuple[SpotRules, ...]
    not_shown: int
    page: int
    pages: int
    total: int


@dataclass(frozen=True, slots=True)
class AreaPage:
    """One area with its rules."""

    answer: str
    area: Area
    kind_words: str
    outline: str
    rules: tuple[RuleRow, ...]
    box: tuple[float, float, float, float]


def areas_page(store: Store, today: date, *, page: int = 1) -> AreasPage:
    with store.reading() as s:
        total = kept.count_areas(s)
        pages = max(1, -(-total // PAGE_SIZE))
        page = min(max(1, page), pages)
        found = kept.list_areas(s, limit=PAGE_SIZE, offset=(page - 1) * PAGE_SIZE)
        rules = kept.list_rules(s)
        with_own = dict.fromkeys(rule.spot_id for rule in rules if rule.spot_id is not None)
        shown = list(with_own)[:MOST_SPOTS]
        names = {number: spots.get_spot(s, number).name for number in shown}
    of_area: dict[int | None, list[Rule]] = {}
    of_spot: dict[int | None, list[Rule]] = {}
    for rule in rules:
        (of_spot if rule.area_id is None else of_area).setdefault(rule.area_id or rule.spot_id, []).append(rule)
    on_spots = [SpotRules(number, name, rule_rows(of_spot[number], today)) for number, name in names.items()]
    return AreasPage(
        answer=_answer(total, rules, len(with_own), today),
        areas=tuple(_area_row(area, of_area.get(area.id, []), today) for area in found),
        on_spots=tuple(sorted(on_spots, key=lambda each: each.name.casefold())),
        not_shown=len(with_own) - len(shown),
        page=page,
        pages=pages,
        total=total,
    )


def area_page(store: Store, area_id: int, today: date) -> AreaPage:
    """Raises Missing."""
    with store.reading() as s:
        area = kept.get_area(s, area_id)
        rules = kept.rules_of_area(s, area_id)
    return AreaPage(
        answer=_area_answer(area, rules, today),
        area=area,
        kind_words=KINDS[area.kind],
        outline=outline_words(area.shape),
        rules=rule_rows(rules, today),
        box=box_of([area]),
    )


def get_area(store: Store, area_id: int) -> Area:
    """Raises Missing."""
    with store.reading() as s:
        return kept.get_area(s, area_id)


def find_area(store: Store, area_id: int) -> Area:
    """Even where it was deleted, so that what somebody typed about it is not lost. Raises Missing."""
    with store.reading() as s:
        return areas_shelf.find(s, area_id)[0]


def all_areas(store: Store) -> tuple[Area, ...]:
    with store.reading() as s:
        return kept.list_areas(s, limit=None)


def add_area(store: Store, draft: AreaDraft) -> Area:
    with store.writing() as s:
        return kept.add_area(s, draft)


def change_area(store: Store, area_id: int, version: int, draft: AreaDraft) -> Area:
    """Raises Clash where somebody changed it in between, Missing where it is gone."""
    with store.writing() as s:
        return kept.change_area(s, area_id, version, draft)


def delete_area(store: Store, area_id: int, version: int, *, now: datetime) -> Area:
    """Put aside for thirty days, its rules with it."""
    with store.writing() as s:
        return kept.delete_area(s, area_id, version, now=now)


def restore_area(store: Store, area_id: int) -> Area:
    with store.writing() as s:
        return kept.restore_area(s, area_id)


def get_rule(store: Store, rule_id: int) -> Rule:
    """Raises Missing."""
    with store.reading() as s:
        return kept.get_rule(s, rule_id)


def find_rule(store: Store, rule_id: int) -> Rule:
    """Even where it was deleted, so that what somebody typed about it is not lost. Raises Missing."""
    with store.reading() as s:
        return rules_shelf.find(s, rule_id)[0]


def add_rule(store: Store, draft: RuleDraft) -> Rule:
    with store.writing() as s:
        return kept.add_rule(s, draft)


def change_rule(store: Store, rule_id: int, version: int, draft: RuleDraft) -> Rule:
    """Raises Clash where somebody changed it in between, Missing where it is gone."""
    with store.writing() as s:
        return kept.change_rule(s, rule_id, version, draft)


def delete_rule(store: Store, rule_id: int, version: int, *, now: datetime) -> Rule:
    with store.writing() as s:
        return kept.delete_rule(s, rule_id, version, now=now)


def restore_rule(store: Store, rule_id: int) -> Rule:
    with store.writing() as s:
        return kept.restore_rule(s, rule_id)


def place_of(store: Store, *, area_id: int | None, spot_id: int | None) -> tuple[str, bool]:
    """The name of what a rule hangs on, and whether it is still there. Raises Missing where there never was any."""
    with store.reading() as s:
        if area_id is not None:
            area, seen = areas_shelf.find(s, area_id)
            return area.name, seen
        if spot_id is None:
            raise Missing("nothing")
        spot, seen = spots.shelf.find(s, spot_id)
        return spot.name, seen


def box_of(areas: Iterable[Area]) -> tuple[float, float, float, float]:
    """South, west, north, east of all of them, degrees."""
    box = town.box_of(point for area in areas for rings in area.shape for point in rings[0])
    return box.south, box.west, box.north, box.east


def around(store: Store) -> tuple[float, float, float, float] | None:
    """A box round the spots and the areas near them, else round all areas; None in an empty town.

    For a map with nothing drawn yet: an area that is kept far away does not spoil it.
    """
    with store.reading() as s:
        areas = kept.list_areas(s, limit=PAGE_SIZE)
        places = [(spot.longitude_deg, spot.latitude_deg) for spot in spots.list_spots(s)]
    if not places:
        return box_of(areas) if areas else None
    box = town_box(places, [Box(*box_of([area])) for area in areas])
    return box.south, box.west, box.north, box.east


def _area_row(area: Area, rules: Sequence[Rule], today: date) -> AreaRow:
    return AreaRow(
        area.id,
        area.name,
        area.kind,
        KINDS[area.kind],
        area.authority,
        area.no_passing,
        len(rules),
        _doubts(rules, today),
        box_of([area]),
    )


def _answer(areas: int, rules: Sequence[Rule], spots_with_rules: int, today: date) -> str:
    if not areas and not rules:
        return "Nothing is recorded yet: every spot is unchecked."
    on_areas = sum(rule.area_id is not None for rule in rules)
    held = f"{counted(areas, 'area')} {'holds' if areas == 1 else 'hold'} {counted(on_areas, 'rule')}"
    said = [held if areas else "No area is recorded yet"]
    if spots_with_rules:
        own = len(rules) - on_areas
        have, whose = ("has", "its") if spots_with_rules == 1 else ("have", "their")
        said.append(
            f"{counted(spots_with_rules, 'spot')} {have} {'a rule' if own == 1 else f'{own} rules'} of {whose} own"
        )
    doubts = _doubts(rules, today)
    return f"{'; '.join(said)}. {f'Of these records {doubts}.' if doubts else 'None of them is too old.'}"


def _area_answer(area: Area, rules: Sequence[Rule], today: date) -> str:
    if not rules:
        return f"Nothing is recorded for {area.name} yet: ask {area.authority}."
    doubts = _doubts(rules, today)
    recorded = f"{counted(len(rules), 'rule')} {'is' if len(rules) == 1 else 'are'} recorded"
    return f"{area.authority} controls {area.name}. {recorded}{f'; {doubts}' if doubts else ''}."


def _doubts(rules: Sequence[Rule], today: date) -> str:
    """'1 is too old, 2 contradict each other, 1 was only told on the spot', or nothing."""
    old = sum(is_old(rule, today) for rule in rules)
    at_odds = len(contradicted(rules))
    told = sum(rule.spoken for rule in rules)
    parts = [f"{old} {'is' if old == 1 else 'are'} too old"] * bool(old)
    parts += [f"{at_odds} contradict each other"] * bool(at_odds)
    parts += [f"{told} {'was' if told == 1 else 'were'} only told on the spot"] * bool(told)
    return ", ".join(parts)
