"""All that a briefing rests on, from what is kept of a workshop: never with the name of anybody who comes.

Nothing in it depends on when it is asked, so that two askings with nothing changed between them are the same.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from models.clock import time_words
from models.planning.briefing.gear import (
    at_first_round,
    cells_told,
    charge_told,
    kit_told,
    light_told,
    redials_told,
    stations_told,
)
from models.planning.briefing.near import near_told, place_of
from models.planning.briefing.paragraphs import in_force, items, told
from models.planning.briefing.street import asked_told, hazards_told, leaf_told, papers_told, weather_told
from models.planning.rules.typed import meeting_text, meeting_words
from models.planning.workshops.fallback import fallbacks_of, goes_to
from models.planning.workshops.running import Running, running_of, walk_seconds
from models.store.engine import Store
from models.store.hazards import KeptSheet, sheet_of
from models.store.settings import get_setting
from models.words.briefing import (
    BRING,
    BRING_MODELS,
    CONTACT,
    IN_A_GROUP,
    ROLES,
    SPARES,
    WEAR,
    by_name,
    roles_words,
    sizes_words,
)
from models.words.running import block_words, rest_words
from models.workshop.briefing import Facts, Place, TimedBlock
from models.workshop.running_order import BEFORE, SAFETY, SET_UP, Block, RunningOrder, decide_by, running_order
from models.workshop.schedule import Schedule

MEETING_POINT, LONGEST_CALL = "the meeting point", 80
"""What a place without a name is called, and up to how many letters the words to find it by are its name."""
WALK_NOT_KNOWN = "How long it takes is not known yet."


def facts_of(store: Store, workshop_id: int, now: datetime) -> Facts:
    """Raises Missing. A workshop without people or stations has no rounds in its blocks and the rest as known."""
    running = running_of(store, workshop_id, now)
    grounds, lit = running.grounds, at_first_round(store, running)
    with store.reading() as s:
        words = in_force(s, workshop_id)
        sheet = sheet_of(s, workshop_id)
        organiser, contact = (str(get_setting(s, name)) for name in ("organiser", "organiser_contact"))
        safety = hazards_told(s, workshop_id, sheet)
        papers, asked = papers_told(s, grounds), asked_told(s, grounds)
        weather = weather_told(s, grounds, sheet)
    bare = Facts(
        **_when_and_where(store, running),
        called_off=grounds.workshop.called_off,
        stations=tuple(stations_told(lit)),
        frames=running.worked.schedule.frames if running.worked else grounds.plan.frames,
        group_size=grounds.plan.group_size,
        organiser=organiser,
        contact=words[CONTACT] or contact,
        talks=by_name(grounds.plan.talks, organiser),
        **_emergency(grounds.plan.ambulance, sheet),
        weather=weather,
        light=light_told(lit),
        redials=redials_told(lit),
        bring=items(words, BRING),
        wear=items(words, WEAR),
        bring_models=items(words, BRING_MODELS),
        carry=papers,
        charge=charge_told(running),
        cells=tuple(cells_told(running)),
        kit=tuple(kit_told(running)),
        enquiries=asked,
        hazards=safety.every,
        cautions=safety.here,
        rests=tuple(_rests(running)),
        leaf=tuple(leaf_told(store, running)),
        paragraphs={},
        language=grounds.plan.language,
        group=grounds.workshop.doing.group,
        spares=by_name(words[SPARES], organiser) or organiser,
    )
    return replace(bare, paragraphs=told(words, bare, _groups(running)))


def _when_and_where(store: Store, running: Running) -> dict[str, Any]:
    grounds = running.grounds
    workshop, plan = grounds.workshop, grounds.plan
    others = fallbacks_of(store, grounds)
    return {
        "workshop_id": workshop.id,
        "title": workshop.title,
        "spot": place_of(grounds.spot),
        "zone": grounds.spot.zone,
        "starts": workshop.starts,
        "ends": workshop.ends,
        "meeting": _meeting(store, running),
        "indoors": plan.indoors,
        "fallback": place_of(others[0]) if others else None,
        "goes_to": goes_to(store, grounds),
        "decide_by": decide_by(plan, workshop.starts),
        "blocks": tuple(_told(block) for block in _blocks(running)),
        "walk": running.walk.said.text if running.walk else "",
        "facilities": near_told(store, grounds.spot),
    }


def _meeting(store: Store, running: Running) -> Place | None:
    """Called by the spot that is there, else by the words to find it by where they are short."""
    point, by = running.grounds.workshop.meeting_point, running.grounds.plan.meets_by
    if point is None:
        return None
    name = meeting_words(point, store)
    if name == meeting_text(point):
        short = len(by) <= LONGEST_CALL and "\n" not in by
        name, by = (by, "") if by and short else (MEETING_POINT, by)
    return Place(name=name, latitude_deg=point[0], longitude_deg=point[1], words=by)


def _blocks(running: Running) -> Iterator[Block]:
    """Of the running order; where there is none yet, those whose times are known all the same."""
    if running.worked:
        yield from running.worked.order.blocks
        return
    plan, workshop = running.grounds.plan, running.grounds.workshop
    nothing = Schedule((), (), 0, 0.0, 0.0, 0.0, 0.0)
    order = running_order(plan, workshop.starts, workshop.ends, nothing, walk_s=walk_seconds(running.walk))
    yield from (block for block in order.blocks if block.key in (*BEFORE, SET_UP, SAFETY))


def _told(block: Block) -> TimedBlock:
    note = " ".join(filter(None, (block.note, "" if block.known else WALK_NOT_KNOWN)))
    starts, ends = _whole(block.starts), _whole(block.ends)
    return TimedBlock(key=block.key, title=block_words(block), starts=starts, ends=ends, note=note)


def _whole(instant: datetime) -> datetime:
    """To the second."""
    return (instant + timedelta(microseconds=500_000)).replace(microsecond=0)


def _emergency(ambulance: str, sheet: KeptSheet | None) -> dict[str, Any]:
    """Whom to call, as in the hazards sheet; the address for an ambulance is typed once, in the plan or there."""
    if sheet is None:
        return {"ambulance": ambulance, "emergency": "", "first_aider": ""}
    address = ambulance or sheet.ambulance_address
    return {"ambulance": address, "emergency": sheet.emergency_number, "first_aider": sheet.first_aider}


def _groups(running: Running) -> dict[str, str]:
    """Of how many people, as the rota has them, and what each of them does at a turn."""
    rounds = running.worked.rota.rounds if running.worked else ()
    sizes = {len(visit.members) for each in rounds for visit in each.visits if visit.post is not None}
    sizes = sizes or {running.grounds.plan.group_size}
    hands = [(look.post.holders, look.post.watchers) for look in running.looks.values()]
    return {IN_A_GROUP: sizes_words(sizes), ROLES: roles_words(sizes, hands)}


def _rests(running: Running) -> Iterator[str]:
    """Of the models, by station, with the local time."""
    if running.worked is None:
        return
    order: RunningOrder = running.worked.order
    for rest in running.worked.schedule.rests:
        at = order.instant(rest.round, rest.starts_s)
        yield f"{time_words(at, running.zone)}: {rest_words(rest, running.station_names)}"
