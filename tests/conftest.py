"""What every test shares."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("kerbstand", deadline=None)  # a busy machine is not a failure
settings.load_profile("kerbstand")
