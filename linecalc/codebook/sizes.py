"""Conductor sizes in rising order, written as the trade writes them."""

from __future__ import annotations

_AWG = tuple(f"{n} AWG" for n in (14, 12, 10, 8, 6, 4, 3, 2, 1)) + tuple(f"{n}/0 AWG" for n in (1, 2, 3, 4))
_KCMIL = (250, 300, 350, 400, 500, 600, 700, 750, 800, 900, 1000, 1250, 1500, 1750, 2000)

SIZES = _AWG + tuple(f"{n} kcmil" for n in _KCMIL)
SMALLEST_PARALLEL = "1/0 AWG"
_INDEX = {size: index for index, size in enumerate(SIZES)}


def size_index(size: str) -> int:
    """Position of a conductor size in rising order."""
    return _INDEX[size]


def smaller_size(first: str, second: str) -> str:
    """The smaller of two conductor sizes."""
    return first if _INDEX[first] <= _INDEX[second] else second


def larger_size(first: str, second: str) -> str:
    """The larger of two conductor sizes."""
    return first if _INDEX[first] >= _INDEX[second] else second
