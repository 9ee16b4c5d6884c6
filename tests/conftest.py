"""What all tests share: property tests draw the same cases in every run."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("same cases every run", derandomize=True, deadline=None)
settings.load_profile("same cases every run")
