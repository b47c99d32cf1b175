"""What a running order is warned by: sun, reserve and moved light at each station by the minute, dark, rule hours."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from models.clock import from_unix_s, to_local, unix_s
from models.light.reserve import ev_to_beat_series
from models.light.setup import choice_of
from models.planning.light import Series
from models.planning.rules.findings import activity_names, findings_at
from models.planning.rules.workshops import footprint_of
from models.planning.setups.over_time import evs_along
from models.planning.workshops.running import Running
from models.planning.workshops.station_look import StationLight as Lit
from models.rules.answers import Finding
from models.rules.hours import Span, edges
from models.store.engine import Store
from models.workshop.running_order import RunningOrder
from models.workshop.warnings import Dark, RuleWindow, StationLight

Floats = NDArray[np.float64]
MINUTE = timedelta(minutes=1)
SUN_FROM = 0.05
"""Of the direct sun that must arrive for it to count as on the model: our planning rule."""


@dataclass(frozen=True, slots=True, eq=False)
class Minutes:
    """Every minute of an order. face_ev: (n,) EV100 by station; stations without a setup in the light are left out."""

    starts: datetime
    stations: tuple[StationLight, ...]
    face_ev: dict[int, Floats]
    dark: Dark | None
    windows: tuple[RuleWindow, ...]

    def place(self, at: datetime) -> int:
        """Of an instant among the minutes, the nearest there is."""
        last = max((len(values) for values in self.face_ev.values()), default=1) - 1
        return min(max(int((at - self.starts) / MINUTE), 0), last)


def minutes_of(store: Store, running: Running, order: RunningOrder) -> Minutes:
    """From the first block to the last, under the cloud that the stations were looked at in."""
    starts = order.blocks[0].starts.replace(second=0, microsecond=0)
    count = int((order.blocks[-1].ends - starts) / MINUTE) + 2
    steps = unix_s(starts) + 60.0 * np.arange(count, dtype=np.float64)
    sights = tuple(_sights(running, steps))
    return Minutes(
        starts=starts,
        stations=tuple(station for station, _, _ in sights),
        face_ev={station.post: face for station, face, _ in sights},
        dark=_dark(starts, sights[0][2] if sights else None),
        windows=tuple(_windows(store, running, order)),
    )


def _sights(running: Running, steps: Floats) -> Iterator[tuple[StationLight, Floats, Series]]:
    """Of every station with a setup in the light, with EV100 on the face and all of its light."""
    for number, one in running.lights.items():
        light, moment = one.lit.light, one.lit.moment
        if light is not None and moment is not None:
            series, face, behind = evs_along(light, steps, moment.oktas, one.lit.looking_deg)
            yield _station(number, one, series, face, behind), face, series


def _station(number: int, one: Lit, series: Series, face: Floats, behind: Floats | None) -> StationLight:
    """reserve_stops: of the key, by how far what it must beat has moved since it was looked at."""
    choice = choice_of(one.solved.setup.lights[0], one.solved.setup)
    there = None if one.lit.behind is None else [one.lit.behind.ev100]
    planned = ev_to_beat_series(choice, [one.lit.subject.ev100 if one.lit.subject else np.nan], there)
    moved = np.asarray(ev_to_beat_series(choice, face, behind)) - float(planned[0])
    keys = [each for each in one.solved.figures.lights if each.light.role == "key"] or one.solved.figures.lights[:1]
    in_hand = min((each.reserve.stops for each in keys if each.reserve), default=float("nan"))
    return StationLight(
        post=number,
        starts=from_unix_s(series.unix_s[0]),
        sun=_sun(series),
        reserve_stops=(in_hand - moved).tolist(),
        moved_stops=moved.tolist(),
    )


def _sun(series: Series) -> list[bool | None]:
    """Whether it arrives; None where it is too close to an edge to call."""
    arrives = (series.sun.transmittance >= SUN_FROM) & (series.elevation_deg > 0)
    return [None if close else bool(there) for there, close in zip(arrives, series.sun.too_close, strict=True)]


def _dark(starts: datetime, series: Series | None) -> Dark | None:
    return None if series is None else Dark(starts, [bool(on) for on in series.lamps_on])


def _windows(store: Store, running: Running, order: RunningOrder) -> Iterator[RuleWindow]:
    """Hours of rules and grants that begin or end between set-up and packed up."""
    workshop, spot = running.grounds.workshop, running.grounds.spot
    footprint = replace(
        footprint_of(workshop, spot.zone),
        starts=to_local(order.starts, spot.zone),
        ends=to_local(max(order.ends, order.packed), spot.zone),
    )
    with store.reading() as s:
        found = findings_at(s, spot, footprint, today=running.grounds.today, meeting_point=workshop.meeting_point)
    names = activity_names(found.found)
    seen = set()
    for each in found.found:
        for finding in each.findings:
            for at, begins in edges(_hours(finding), footprint):
                window = RuleWindow(_name(finding, names[each.activity]), at, begins)
                if window not in seen:
                    seen.add(window)
                    yield window


def _hours(finding: Finding) -> Span:
    record = finding.rule or finding.enquiry
    return Span() if record is None else Span(from_time=record.from_time, to_time=record.to_time)


def _name(finding: Finding, activity: str) -> str:
    """'A rule of the harbour quays, teaching'."""
    what = "A rule" if finding.rule else "An answer"
    return f"{what} of {finding.area.name if finding.area else 'this spot'}, {activity}"
