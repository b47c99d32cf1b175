"""Bringing in towns and spots from files."""

from __future__ import annotations

from pathlib import Path

import click
from flask.cli import with_appcontext

from models.planning.imports import ImportReport, import_buildings, import_footways, import_osm, import_spots
from models.planning.places import read_box
from models.planning.rules.areas_import import AreasPreview, import_areas, preview_areas
from models.rules.areas import KINDS
from webapp.answering import store
from webapp.commands.terminal import plain, say, with_problems_said

_file = click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
_name = click.option("--name", help="What to call it; the file's name unless said. The same name is replaced.")


@click.group("import")
def bring_in() -> None:
    """Bring in buildings, footways, spots and rule areas: all of a file, or nothing."""


@bring_in.command()
@_file
@_name
@click.option("--bbox", help="Only this part: west,south,east,north in degrees.")
@with_appcontext
@with_problems_said
def osm(file: Path, name: str | None, bbox: str | None) -> None:
    """An OpenStreetMap extract (.osm.pbf or .osm)."""
    box = read_box(bbox) if bbox else None
    _say(import_osm(store(), file, box, _progress, name=name))


@bring_in.command()
@_file
@_name
@with_appcontext
@with_problems_said
def buildings(file: Path, name: str | None) -> None:
    """Footprints with heights, from GeoJSON."""
    _say(import_buildings(store(), file, name=name))


@bring_in.command()
@_file
@_name
@with_appcontext
@with_problems_said
def footways(file: Path, name: str | None) -> None:
    """Ways to walk, from GeoJSON."""
    _say(import_footways(store(), file, name=name))


@bring_in.command()
@_file
@click.option("--zone", help="Time zone of all of them, like Europe/Amsterdam; from the place unless said.")
@with_appcontext
@with_problems_said
def spots(file: Path, zone: str | None) -> None:
    """Spots, from GeoJSON."""
    _say(import_spots(store(), file, zone=zone))


@bring_in.command()
@_file
@click.option("--check", is_flag=True, help="Only say what was understood; keep nothing.")
@click.option("--kind", type=click.Choice(list(KINDS)), help="Of areas that name none.")
@click.option("--authority", default="", help="Of areas that name none.")
@with_appcontext
@with_problems_said
def areas(file: Path, check: bool, kind: str | None, authority: str) -> None:
    """Rule areas, from GeoJSON: who controls which ground."""
    if check:
        return _say_preview(preview_areas(store(), file, kind=kind or "", authority=authority))
    for sentence in import_areas(store(), file, kind=kind or "", authority=authority):
        say(sentence)
    return None


def _say_preview(found: AreasPreview) -> None:
    """What would come in; a file that would be refused ends the command with code 2."""
    say(found.answer)
    for where, what in found.refused:
        say(f"{where}: {what}")
    for area in found.areas:
        there = " (there already)" if area.there else ""
        say(f"{area.name}{there}: {area.kind_words}; {area.authority}; {area.outline}")
    if found.refused:
        raise SystemExit(2)


def _progress(words: str) -> None:
    click.echo(plain(words), err=True)


def _say(report: ImportReport) -> None:
    for sentence in report.words:
        say(sentence)
