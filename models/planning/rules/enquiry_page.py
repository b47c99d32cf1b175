"""One enquiry: where it stands, what it names, what of its workshop it leaves out, its letter, history and files."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy.orm import Session

from models.clock import day_words, instant_words, to_local
from models.exchange.papers_file import WORDS as FILE_KINDS
from models.exchange.papers_file import CheckedFile
from models.planning.rules.enquiry_gaps import found_at_place, unasked
from models.planning.rules.enquiry_plan import AskedPlace, AskedWorkshop, asked_place, asked_workshop, workshop_of
from models.planning.rules.enquiry_words import Fact, answer_facts, named_facts, standing_answer
from models.planning.rules.letter import Letter, letter_of, zone_words
from models.planning.rules.rule_rows import RuleRow, rule_rows
from models.planning.rules.workshops import footprint_of
from models.planning.spots import home_zone
from models.rules.activities import ACTIVITIES
from models.rules.coverage import differences
from models.rules.enquiry import NEXT, STATES, Enquiry
from models.rules.workshop import Workshop
from models.store import rules as kept
from models.store.engine import Store
from models.store.rules import FileNote, StoredFile
from models.store.rules.areas import shelf as areas
from models.store.rules.workshops import shelf as workshops
from models.store.spots import Spot
from models.store.spots import shelf as spots
from models.store.versions import Missing
from models.words.rules import STANDING_NOTE
from models.words.said import Said


@dataclass(frozen=True, slots=True)
class StepShown:
    """One line of the history."""

    at: datetime
    when: str
    state: str
    words: str
    note: str


@dataclass(frozen=True, slots=True)
class FileShown:
    """A file that came with it: its name, 'a PDF', '120 kB', when it came."""

    id: int
    name: str
    kind: str
    size: str
    when: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EnquiryPage:
    """next: states it can go to. workshop_gone: its workshop was deleted since.

    lacking: what of its workshop it does not cover, as the workshop is now. unasked: what of the workshop stands open
    at its place and is not asked for, while it is to be sent or waits.

    rules: what is recorded there of what it asks about. letter: while it is to be sent or waits.
    """

    enquiry: Enquiry
    answer: Said
    state_words: str
    place: AskedPlace
    workshop: AskedWorkshop | None
    workshop_gone: bool
    named: tuple[Fact, ...]
    back: tuple[Fact, ...]
    lacking: tuple[str, ...]
    unasked: tuple[str, ...]
    rules: tuple[RuleRow, ...]
    letter: Letter | None
    history: tuple[StepShown, ...]
    files: tuple[FileShown, ...]
    next: tuple[str, ...]
    may_go_back: bool
    standing_note: str


def enquiry_page(store: Store, enquiry_id: int, now: datetime) -> EnquiryPage:
    """Raises Missing."""
    home = home_zone(store)
    today = to_local(now, home).date()
    with store.reading() as s:
        enquiry = kept.get_enquiry(s, enquiry_id)
        place = asked_place(s, enquiry)
        workshop, spot = workshop_of(s, enquiry.workshop_id)
        where = spot or (spots.find(s, place.spot_id)[0] if place.spot_id else None)
        zone = where.zone if where else home
        gone = bool(workshop) and not workshops.find(s, enquiry.workshop_id or 0)[1]
        to_send = enquiry.state in ("planned", "asked")
        return EnquiryPage(
            enquiry=enquiry,
            answer=standing_answer(enquiry, today),
            state_words=STATES[enquiry.state],
            place=place,
            workshop=asked_workshop(workshop, spot) if workshop and spot else None,
            workshop_gone=gone,
            named=named_facts(enquiry, zone_words(enquiry, zone)),
            back=answer_facts(enquiry),
            lacking=() if gone else _lacking(enquiry, workshop, spot),
            unasked=_unasked(s, enquiry, workshop, spot, today) if to_send and not gone else (),
            rules=_rules(s, enquiry, today),
            letter=letter_of(s, enquiry, place, workshop, where, zone) if to_send else None,
            history=tuple(_step(each.at, each.state, each.note, zone) for each in kept.history_of(s, enquiry_id)),
            files=tuple(_file(note, zone) for note in kept.files_of(s, enquiry_id)),
            next=NEXT[enquiry.state],
            may_go_back=kept.may_go_back(s, enquiry_id),
            standing_note=STANDING_NOTE,
        )


def keep_file(store: Store, enquiry_id: int, file: CheckedFile, *, now: datetime) -> FileNote:
    """Raises Missing."""
    with store.writing() as s:
        return kept.store_file(s, enquiry_id, file.name, file.kind, file.data, now=now)


def get_file(store: Store, enquiry_id: int, file_id: int) -> StoredFile:
    """A file of that enquiry. Raises Missing."""
    with store.reading() as s:
        return _file_of(s, enquiry_id, file_id)


def delete_file(store: Store, enquiry_id: int, file_id: int) -> FileNote:
    """For good. Raises Missing."""
    with store.writing() as s:
        file = _file_of(s, enquiry_id, file_id)
        kept.delete_file(s, file_id)
    return file


def _file_of(s: Session, enquiry_id: int, file_id: int) -> StoredFile:
    file = kept.file_of(s, file_id)
    if file.enquiry_id != enquiry_id:
        raise Missing(file_id, "file")
    return file


def _lacking(enquiry: Enquiry, workshop: Workshop | None, spot: Spot | None) -> tuple[str, ...]:
    """Said once, whichever activities it is about; what a question does not name may be asked of somebody else."""
    if workshop is None or spot is None or enquiry.state not in ("planned", "asked", "granted"):
        return ()
    footprint = footprint_of(workshop, spot.zone)
    done = [key for key in ACTIVITIES if key in footprint.doing.amounts()]
    if enquiry.state != "granted":
        done = [key for key in done if key in enquiry.activities]
    return tuple(dict.fromkeys(line for key in done for line in differences(enquiry, footprint, key)))


def _unasked(
    s: Session, enquiry: Enquiry, workshop: Workshop | None, spot: Spot | None, today: date
) -> tuple[str, ...]:
    """But what another enquiry to the same place, planned too, is to ask."""
    if workshop is None or spot is None:
        return ()
    area = areas.find(s, enquiry.area_id)[0] if enquiry.area_id else None
    area_ids = (area.id,) if area else ()
    others = [each for each in kept.enquiries_for(s, area_ids, enquiry.spot_id) if each.id != enquiry.id]
    named = {*enquiry.activities}
    for other in others:
        if other.state == "planned" and other.workshop_id == workshop.id:
            named.update(other.activities)
    rules, footprint = kept.rules_for(s, area_ids, enquiry.spot_id), footprint_of(workshop, spot.zone)
    return unasked(found_at_place(s, area, enquiry.spot_id, footprint, spot, rules, others, today), named)


def _rules(s: Session, enquiry: Enquiry, today: date) -> tuple[RuleRow, ...]:
    rules = kept.rules_for(s, (enquiry.area_id,) if enquiry.area_id else (), enquiry.spot_id)
    return rule_rows([rule for rule in rules if rule.activity in enquiry.activities], today)


def _step(at: datetime, state: str, note: str, zone: str) -> StepShown:
    return StepShown(at, instant_words(at, zone), state, STATES[state], note)


def _file(note: FileNote, zone: str) -> FileShown:
    size = f"{note.size_bytes / 1e6:.1f} MB" if note.size_bytes >= 1e6 else f"{max(1, round(note.size_bytes / 1e3))} kB"
    return FileShown(note.id, note.name, FILE_KINDS[note.kind], size, day_words(to_local(note.added_at, zone).date()))
