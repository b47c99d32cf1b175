"""The command line: the same answers as the pages, from the same planning functions."""

from __future__ import annotations

import click
from flask.cli import AppGroup, ScriptInfo

from webapp import create_app
from webapp.commands import erasing, importing, lighting, listing, ruling, serving, signing_in, timing
from webapp.heap import share_arenas


@click.group(cls=AppGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.pass_context
def main(context: click.Context) -> None:
    """Plan small-flash portraits on city streets: where to stand, when, and whether a flash beats the light."""
    share_arenas()
    context.obj = context.obj or ScriptInfo(create_app=create_app, set_debug_flag=False)


for command in (
    serving.demo,
    serving.serve,
    signing_in.sign_in,
    listing.spots,
    lighting.light,
    timing.times,
    ruling.rules,
    importing.bring_in,
    erasing.erase,
):
    main.add_command(command)
