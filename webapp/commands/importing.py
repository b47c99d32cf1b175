"""Bringing in towns and spots from files."""

from __future__ import annotations

from pathlib import Path

import click
from flask.cli import with_appcontext

from models.planning.imports import ImportReport, import_buildings, import_footways, import_osm, import_spots
from models.planning.places import read_box
from webapp.answering import store
from webapp.commands.terminal import plain, say, with_problems_said

_file = click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
_name = click.option("--name", help="What to call it; the file's name unless said. The same name is replaced.")


@click.group("import")
def bring_in() -> None:
    """Bring in buildings, footways and spots: all of a file, or nothing."""


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


def _progress(words: str) -> None:
    click.echo(plain(words), err=True)


def _say(report: ImportReport) -> None:
    for sentence in report.words:
        say(sentence)
