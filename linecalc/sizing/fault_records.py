"""Records of the fault currents: what flows at each place, and from where."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.term import Number


@dataclass(frozen=True, slots=True)
class PlaceFault:
    """The bolted fault current at one place, the sources included, in amperes.

    ``ll`` is line to line; ``ln_low`` and ``ln_high`` bracket line to neutral
    and are equal where the utility value is one at the transformer. Either is
    None where the conductors do not reach. ``low`` and ``high`` are the larger
    of both: what an interrupting rating is held against.
    """

    tag: str
    ll: Number | None
    ln_low: Number | None
    ln_high: Number | None
    low: Number
    high: Number


@dataclass(frozen=True, slots=True)
class Faults:
    """The fault currents of a house.

    ``point`` is where the utility value holds, ``meter`` or ``transformer``;
    ``sources`` pairs source tags with what each adds; ``needs`` names the
    inputs without which nothing is known.
    """

    point: str
    utility_a: Number | None
    x_over_r: Number | None
    sources: tuple[tuple[str, Number], ...]
    places: dict[str, PlaceFault]
    needs: tuple[str, ...]

    def at(self, tag: str) -> PlaceFault | None:
        """The fault current at one place, None where it is not known."""
        return self.places.get(tag)
