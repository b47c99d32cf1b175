"""The strictest answer about a spot, for its own page: a line or two, with the way to all of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from models.clock import to_local
from models.planning.answers import Moment
from models.planning.rules.findings import activity_names, spot_findings
from models.planning.rules.what_if import read_footprint
from models.problems import InputProblem
from models.rules.answers import ActivityFindings, Answer
from models.rules.footprint import Footprint
from models.store.engine import Store
from models.store.spots import Spot
from models.words.findings import findings_line
from models.words.said import Said
from models.words.spot import not_checked


@dataclass(frozen=True, slots=True)
class SpotLine:
    """recorded: something of the rules is recorded for the place."""

    answer: Answer
    said: Said
    recorded: bool


def spot_line(store: Store, spot: Spot, moment: Moment, asked: Mapping[str, str], now: datetime) -> SpotLine:
    """For the footprint of the what-if that the address carries, else for the usual one, set up at the moment."""
    footprint = _footprint(asked, moment)
    today = to_local(now, spot.zone).date()
    found = spot_findings(store, spot.id, footprint, today=today)
    if not _recorded(found.found):
        return SpotLine(found.strictest, not_checked(spot.controller), False)
    return SpotLine(found.strictest, findings_line(found.found, activity_names(found.found)), True)


def _footprint(asked: Mapping[str, str], moment: Moment) -> Footprint:
    try:
        return read_footprint(asked, moment)
    except InputProblem:
        return read_footprint({}, moment)


def _recorded(found: Sequence[ActivityFindings]) -> bool:
    return any(finding.rule or finding.enquiry for each in found for finding in each.findings)
