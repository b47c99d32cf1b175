"""What every test shares."""

from __future__ import annotations

import os

from hypothesis import settings

import models  # noqa: F401  before numpy: it says how many threads that takes

# a busy machine is not a failure; a check run tries the same examples each time, a developer's new ones
settings.register_profile("kerbstand", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("kerbstand")
