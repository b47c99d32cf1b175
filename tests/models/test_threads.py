"""numpy's BLAS takes one thread, unless the environment says otherwise: decided before numpy is first imported."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

WATCHED = """
import os, sys

class Watch:
    def find_spec(name, path=None, target=None):
        if name == "numpy":
            print(os.environ.get("OPENBLAS_NUM_THREADS"))

sys.meta_path.insert(0, Watch)
import webapp.cli
"""


@pytest.mark.parametrize(("said", "taken"), [(None, "1"), ("2", "2")])
def test_blas_threads(said, taken):
    environment = {name: value for name, value in os.environ.items() if name != "OPENBLAS_NUM_THREADS"}
    if said:
        environment["OPENBLAS_NUM_THREADS"] = said
    python = [sys.executable, "-c", WATCHED]
    told = subprocess.run(python, env=environment, capture_output=True, text=True, check=True)  # noqa: S603
    assert told.stdout.split() == [taken]
