"""Cables beside raceways: their insulation, the cap on their ampacity, the grounding conductor they hold.

References
----------
``nm_cable_ampacity`` 334.80, ``se_cable_interior`` 338.10(B)(4)(a), ``uf_cable_uses`` 340.80,
``cable_egc`` Table 250.122; what a cable holds is its maker's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from linecalc.codebook import Book
from linecalc.codebook.sizes import size_index
from linecalc.errors import TableError
from linecalc.project.model import CABLES, Section

NM, UF, MC = "NM-B", "UF", "MC"
SE_TYPES = ("SE", "SER", "SEU")
AS_CABLE = (NM, UF, "SE")
FORCED = {NM: NM, UF: UF}
DEFAULTS = {NM: NM, UF: UF, "SE": "SE", "SER": "SE", "SEU": "SE", MC: "THHN"}
CAP_C = 60
LARGEST_CAPPED_SE = "10 AWG"
INSIDE_WORDS = ("attic", "garage", "interior", "indoor", "basement", "closet", "wall cavity", "utility room", "crawl", "inside", "shed")
OUTSIDE_WORDS = ("roof", "array", "outdoor", "underground", "exterior", "outside", "yard", "patio", "ground", "trench")


@dataclass(frozen=True, slots=True)
class Cap:
    """The column that holds a cable's final ampacity, and the citation key that says so."""

    column_c: int
    cite: str


def is_cable(section: Section) -> bool:
    """Whether a section is a cable."""
    return section.method in CABLES


def is_inside(section: Section) -> bool | None:
    """Whether a section runs inside a building: stated, else by the words of its place; None where they do not tell."""
    if section.inside is not None:
        return section.inside
    words = section.place.lower()
    if any(word in words for word in INSIDE_WORDS):
        return True
    return False if any(word in words for word in OUTSIDE_WORDS) else None


def cable_insulation(methods: Sequence[str], written: str | None) -> tuple[str | None, str]:
    """The insulation of a circuit whose path holds a cable, and why it is not the one written; "" where it is.

    NM-B and UF are named by the cable, whatever their conductors are marked.
    """
    cables = [method for method in methods if method in CABLES]
    if not cables:
        return written, ""
    forced = FORCED.get(cables[0])
    if forced is not None and written != forced:
        return forced, f"the conductors are those of {cables[0]} cable"
    if written is None:
        return DEFAULTS[cables[0]], f"insulation not given; that of {cables[0]} cable, the lower rating"
    return written, ""


def cap_of(section: Section, insulation: str, size: str) -> Cap | None:
    """The cap on the final ampacity of a cable in a section; None where there is none.

    NM-B everywhere; UF is a 60 degC cable altogether; SE inside a building, of
    10 AWG and smaller and in contact with thermal insulation.
    """
    if insulation == NM:
        return Cap(CAP_C, "nm_cable_ampacity")
    small = size_index(size) <= size_index(LARGEST_CAPPED_SE)
    if section.method in SE_TYPES and small and is_inside(section) is not False and section.thermal_insulation is not False:
        return Cap(CAP_C, "se_cable_interior")
    return None


def egc_in_cable(book: Book, methods: Sequence[str], size: str, material: str) -> str | None:
    """The grounding conductor that a cable of this size usually holds; None where no table says so."""
    cables = [method for method in methods if method in CABLES]
    if not cables:
        return None
    try:
        table = book.table("cable-egc")
        row = next(at for at, key in enumerate(zip(table.texts("cable"), table.texts("size"), table.texts("material"))) if key == (cables[0], size, material))
    except (StopIteration, TableError):
        return None
    return table.texts("egc_size")[row]
