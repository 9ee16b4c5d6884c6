"""Ranges of ordinary house installations, for laws that must hold throughout them."""

from __future__ import annotations

from hypothesis import strategies as st


def between(lowest: float, highest: float) -> st.SearchStrategy[float]:
    """Finite floats from ``lowest`` to ``highest``."""
    return st.floats(lowest, highest, allow_nan=False, allow_infinity=False)


AMPERES = between(0.5, 1200.0)
AMPACITIES = between(10.0, 700.0)
LENGTHS_FT = between(0.5, 2000.0)
FACTORS = between(0.05, 1.2)
VOLTS = between(10.0, 1500.0)
STRINGS = st.integers(1, 6)
MODULES = st.integers(1, 25)
TEMPERATURES_C = between(-50.0, 60.0)
FALLING_COEFFICIENTS = between(-0.6, -0.01)
OHM_PER_KFT = between(0.01, 10.0)
POWER_FACTORS = between(0.1, 1.0)
POWERS_W = between(100.0, 50_000.0)
MORE = between(0.0, 500.0)
AREAS_CMIL = between(4110.0, 2_000_000.0)
