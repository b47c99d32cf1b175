"""What a page shows lives in its address: day, time, sky, the flash's sentence and the what-if, carried along."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from urllib.parse import urlencode, urlsplit

from flask import Flask, Response, redirect, request, url_for

from models.clock import to_local, zone_short
from models.planning.answers import Moment
from models.planning.moments import SKIES, read_moment, sky_words
from models.planning.rules.what_if import FOOTPRINT
from models.planning.sentence import PARAMETERS
from models.planning.street.sky import under_weather
from models.problems import InputProblem
from webapp.answering import now, store, wants_json

MOMENT = ("on", "at", "fold", "sky")
CARRIED = (*MOMENT, *PARAMETERS, *FOOTPRINT)
LONGEST_STEP_MIN = 2 * 24 * 60


@dataclass(frozen=True, slots=True)
class Bar:
    """The shared bar as shown: the moment in force, what stands in its fields, and what is wrong with them."""

    moment: Moment
    day: str
    clock: str
    sky: str
    problems: Mapping[str, str] = field(default_factory=dict)
    repeated: tuple[tuple[str, str], ...] = ()

    @property
    def skies(self) -> tuple[tuple[str, str], ...]:
        """(value, words) of the sky's choices; the empty value is what is assumed when nobody says."""
        assumed = "" if self.sky else f"{self.moment.oktas} oktas, {self.moment.oktas_by}"
        return (("", assumed or "not said"), *((str(n), f"{n} oktas, {words}") for n, words in self._known()))

    def _known(self) -> tuple[tuple[int, str], ...]:
        chosen = self.moment.oktas
        extra = () if chosen in dict(SKIES) else ((chosen, sky_words(chosen)),)
        return tuple(sorted((*SKIES, *extra)))


def read_bar(zone: str, spot_id: int | None = None) -> Bar:
    """The bar from the request's address; a bad field keeps what was typed and shows the present moment instead."""
    try:
        moment = asked_moment(zone, spot_id)
    except InputProblem as problem:
        if wants_json():
            raise
        return _with_problem(problem, zone, spot_id)
    return _bar(moment, request.args.get("sky", ""))


def asked_moment(zone: str, spot_id: int | None = None) -> Moment:
    """The moment of the address; where it names no sky, under the weather of the spot. Raises InputProblem."""
    on, at, sky, fold = (request.args.get(name) for name in ("on", "at", "sky", "fold"))
    return under_weather(store(), read_moment(on, at, sky, zone, now(), fold), spot_id, now())


def settled(bar: Bar) -> Response | None:
    """Where to go instead: a step taken, or what was typed written as an address that always means the same."""
    asked = request.args
    if bar.problems:
        return None
    written = {name: asked[name] for name in ("on", "at", "fold") if asked.get(name)}
    exact = instant_values(bar.moment.instant, bar.moment.zone)
    step = _step()
    if not step and (not written or written == exact):
        return None
    return redirect(here(**instant_values(bar.moment.instant + timedelta(minutes=step), bar.moment.zone)), 303)


def instant_values(instant: datetime, zone: str) -> dict[str, str]:
    """The address parameters of an instant; fold only where the clocks show the time twice."""
    local = to_local(instant, zone)
    twice = local.replace(fold=0).utcoffset() != local.replace(fold=1).utcoffset()
    return {"on": f"{local:%Y-%m-%d}", "at": f"{local:%H:%M}"} | ({"fold": str(local.fold)} if twice else {})


def address(endpoint: str, **values: object) -> str:
    """url_for with the moment, the sentence and the what-if of this request carried along."""
    asked = request.args
    kept = {name: value for name in CARRIED if (value := asked.get(name))}
    if "on" in values:
        kept.pop("fold", None)
    return url_for(endpoint, **_said(kept | values))


def here(**changes: object) -> str:
    """This page's address with parameters changed; None or '' leaves one out, and a new day drops the old fold."""
    kept = {name: value for name, value in request.args.items() if name != "step"}
    if "on" in changes:
        kept.pop("fold", None)
    said = _said(kept | changes)
    return f"{request.path}?{urlencode(said)}" if said else request.path


def own_path(text: str) -> str | None:
    """The path if it stays on this site: one slash in front, no host, nothing that a browser would drop or turn."""
    try:
        parts = urlsplit(text)
    except ValueError:  # half an IPv6 address
        return None
    plain = text.isprintable() and "\\" not in text
    stays = not parts.scheme and not parts.netloc and text.startswith("/") and not text.startswith("//")
    return text if plain and stays else None


def kept_fields(*own: str) -> list[tuple[str, str]]:
    """What a form must carry as hidden fields besides its own."""
    return [(name, value) for name, value in request.args.items() if name not in (*own, "fold", "step", "page")]


def init_app(app: Flask) -> None:
    app.add_template_global(address)
    app.add_template_global(here)
    app.add_template_global(kept_fields)
    app.add_template_global(instant_values)


def _bar(moment: Moment, sky: str) -> Bar:
    local = moment.local
    return Bar(moment, f"{local:%a} {local.day} {local:%b %Y}", f"{local:%H:%M}", sky)


def _with_problem(problem: InputProblem, zone: str, spot_id: int | None) -> Bar:
    asked = request.args
    moment = under_weather(store(), read_moment(None, None, None, zone, now()), spot_id, now())
    shown = _bar(moment, "")
    typed_day, typed_clock = asked.get("on") or shown.day, asked.get("at") or shown.clock
    problems = {problem.field: problem.message}
    return Bar(moment, typed_day, typed_clock, "", problems, _both_times(zone) if problem.field == "time" else ())


def _both_times(zone: str) -> tuple[tuple[str, str], ...]:
    """(fold, words) of a time that comes twice; empty when that is not what is wrong."""
    asked = request.args
    try:
        twice = [read_moment(asked.get("on"), asked.get("at"), None, zone, now(), fold) for fold in ("0", "1")]
    except InputProblem:
        return ()
    names = ("the first", "the second")
    return tuple((str(k), f"{names[k]}, {zone_short(moment.instant, zone)}") for k, moment in enumerate(twice))


def _step() -> int:
    """Minutes to step, from the earlier and later buttons."""
    text = request.args.get("step", "")
    minutes = int(text) if re.fullmatch(r"-?[0-9]{1,6}", text) else 0
    return max(-LONGEST_STEP_MIN, min(LONGEST_STEP_MIN, minutes))


def _said(values: Mapping[str, object]) -> dict[str, object]:
    return {name: value for name, value in values.items() if value not in (None, "")}
