"""A press on a page that is older than what is kept: back to the setup as it stands now, with a word about it."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import ParamSpec

from flask import Response, flash, redirect

from models.store.versions import Clash
from webapp.setups.addresses import with_words

Asked = ParamSpec("Asked")


def back_on_clash(press: Callable[Asked, Response]) -> Callable[Asked, Response]:
    """For presses that lose nothing typed. A setup that was deleted stays a clash."""

    @wraps(press)
    def pressed(*args: Asked.args, **kwargs: Asked.kwargs) -> Response:
        try:
            return press(*args, **kwargs)
        except Clash as clash:
            if clash.deleted:
                raise
            flash("Nothing was done: this setup was changed elsewhere in between. Here it is as it stands now.", "done")
            return redirect(with_words("setups.setup", setup_id=clash.current.id), 303)

    return pressed
