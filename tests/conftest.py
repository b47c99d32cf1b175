"""What every test shares."""

from __future__ import annotations

from hypothesis import settings

import models  # noqa: F401  before numpy: it says how many threads that takes

settings.register_profile("kerbstand", deadline=None)  # a busy machine is not a failure
settings.load_profile("kerbstand")
