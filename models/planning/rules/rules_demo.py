"""The demo town's rules, as its plain files hold them."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time
from pathlib import Path

from sqlalchemy.orm import Session

from models.exchange.areas import read_areas
from models.exchange.bylaws import read_bylaws
from models.rules.enquiry import EnquiryDraft
from models.store import rules as kept
from models.store.settings import put_setting
from models.store.spots import list_spots

AREAS_FILE, BYLAWS_FILE = "areas.geojson", "bylaws.toml"


def fill_rules(s: Session, folder: Path) -> None:
    """Areas, rules, papers, workshops, enquiries; the spots they name must be there. InputProblem names the entry."""
    kept.add_areas(s, read_areas(folder / AREAS_FILE))
    areas = {area.name: area.id for area in kept.list_areas(s, limit=None)}
    spots = {spot.name: spot.id for spot in list_spots(s, limit=1000)}
    bylaws = read_bylaws(folder / BYLAWS_FILE, areas=areas, spots=spots)
    put_setting(s, "holidays", bylaws.holidays)
    kept.add_rules(s, bylaws.rules)
    for paper in bylaws.papers:
        kept.add_paper(s, paper)
    workshops = {draft.title: kept.add_workshop(s, draft).id for draft in bylaws.workshops}
    for draft, title in bylaws.enquiries:
        _add_enquiry(s, replace(draft, workshop_id=workshops[title] if title else None))


def _add_enquiry(s: Session, draft: EnquiryDraft) -> None:
    """With the history that its days tell: asked on one, answered on another."""
    if draft.sent_on is None:
        kept.add_enquiry(s, draft)
        return
    asked = kept.add_enquiry(s, replace(draft, state="asked"), now=_noon(draft.sent_on))
    if draft.answered_on is not None:
        kept.move_enquiry(s, asked.id, asked.version, draft, now=_noon(draft.answered_on))


def _noon(day: date) -> datetime:
    return datetime.combine(day, time(12), UTC)
