"""A new link to choose the passphrase, for whoever sits at the machine."""

from __future__ import annotations

import click

from models.planning.account import signing_in
from models.planning.demo import open_demo
from models.store.engine import open_store, upgrade
from webapp.config import database_url, demo_path, this_instant


@click.command("sign-in")
@click.option("--demo", is_flag=True, help="For the demo town.")
def sign_in(demo: bool) -> None:
    """Print a link that works once, within an hour, to choose a passphrase."""
    if demo and not demo_path().exists():
        raise click.ClickException("There is no demo town on this machine yet. Start it with kerbstand demo.")
    store = open_demo(demo_path()) if demo else open_store(database_url())
    upgrade(store)
    path = f"sign-in/{signing_in.new_link(store, this_instant())}"
    address = signing_in.last_address(store)
    if address:
        click.echo(f"Open {address}{path}")
    else:
        click.echo(f"Open /{path} behind the address that Kerbstand prints when it starts with sign-in.")
    click.echo("It works once, within an hour. The passphrase chosen there replaces the one before and signs all out.")
    store.close()
