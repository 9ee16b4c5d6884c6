"""What each section of a path does to a conductor: moisture, ambient, count, ampacity."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from linecalc.calc.ampacity import capped_ampacity, corrected_ampacity, raised_ambient
from linecalc.codebook import Book
from linecalc.codebook.book import NIPPLE_FT
from linecalc.network.build import Network
from linecalc.network.loads import term_of
from linecalc.network.records import Assumption, Circuit, Kind
from linecalc.project.model import Section
from linecalc.sizing.cables import SE_TYPES, cap_of, is_inside
from linecalc.sizing.records import Surroundings
from linecalc.term import Number, Term, given, label, value_of

_WETNESS = ("dry", "damp", "wet")
_WET_WORDS = ("outdoor", "outside", "exterior", "roof", "underground", "buried", "trench", "ground", "under array", "crawl")
_DRY_WORDS = ("attic", "garage", "interior", "indoor", "basement", "closet", "wall cavity", "utility room")
_HOT_WORDS = ("attic", "under array", "roof")
_ROOFTOP_EXEMPT = "XHHW-2"
INDOOR_C = 30.0
CARRYING_PER_SET = 2


@dataclass(frozen=True, slots=True)
class Place:
    """A section's conditions that do not depend on the conductor.

    ``ambient`` is None where it must be given and is not; ``adder`` is the
    rooftop adder where it applies.
    """

    tag: str
    item: Section
    moisture: str
    ambient: Term | None
    ambient_given: bool
    adder: Term | None
    needs: tuple[str, ...]


def place_of(network: Network, book: Book, tag: str, assumptions: list[Assumption]) -> Place:
    """Read one section's conditions, listing what had to be assumed.

    References
    ----------
    ``rooftop_adder``; interiors of outdoor and underground raceways are wet (300.5, 300.9).
    """
    section = network.project.section[tag]
    moisture = _moisture(tag, section, assumptions)
    ambient, given_, needs = _ambient(network, tag, section, assumptions)
    if section.method in SE_TYPES and is_inside(section) is not False and section.thermal_insulation is None:
        reason = "not stated whether the cable touches thermal insulation; the safe reading, it counts for 10 AWG and smaller only"
        assumptions.append(Assumption(f"section.{tag}.thermal_insulation", "yes", reason))
    return Place(tag, section, moisture, ambient, given_, _adder(book, tag, section, assumptions), needs)


def _words(section: Section) -> str:
    return section.place.lower()


def reads_as_wet(section: Section) -> bool:
    """Whether the words of a place are those of one outdoors or underground, where the interior of a raceway is wet."""
    return any(word in _words(section) for word in _WET_WORDS)


def _moisture(tag: str, section: Section, assumptions: list[Assumption]) -> str:
    if section.moisture is not None:
        return section.moisture
    dry = not reads_as_wet(section) and any(word in _words(section) for word in _DRY_WORDS)
    moisture = "dry" if dry else "wet"
    reason = f'moisture not given; taken from the place "{section.place}"' if dry else "moisture not given; wet is the safe reading"
    assumptions.append(Assumption(f"section.{tag}.moisture", moisture, reason))
    return moisture


def _ambient(
    network: Network, tag: str, section: Section, assumptions: list[Assumption]
) -> tuple[Term | None, bool, tuple[str, ...]]:
    path = f"section.{tag}.ambient"
    if section.ambient is not None:
        return term_of(section.ambient, "T_a", path, f"ambient of {tag}"), section.ambient.basis == "given", ()
    high = network.project.site.high_temperature
    if any(word in _words(section) for word in _HOT_WORDS) or high is None:
        return None, False, (path,)
    value = max(high.value, INDOOR_C)
    assumptions.append(Assumption(path, f"{value:g} degC", "ambient not given; the site's high temperature, at least 30 degC"))
    return given(value, "degC", "T_a", path, f"ambient of {tag}, assumed"), False, ()


def _adder(book: Book, tag: str, section: Section, assumptions: list[Assumption]) -> Term | None:
    on_roof = "roof" in _words(section) or section.height_above_roof is not None
    if not on_roof or section.sun is False or section.method == "free air":
        return None
    if section.sun is None:
        assumptions.append(Assumption(f"section.{tag}.sun", "in direct sun", "sun not stated for a raceway on a roof"))
    height = section.height_above_roof
    trigger, adder = book.rooftop()
    if height is None:
        assumptions.append(Assumption(f"section.{tag}.height_above_roof", "0 in", "height above the roof not given"))
        return adder
    return adder if height.value < trigger - 1e-9 else None


def low_over_roof(book: Book, section: Section) -> bool:
    """Whether a raceway or cable lies in the sun lower over a roof than the edition's height, whatever its insulation."""
    return _adder(book, "", section, []) is not None


def wettest(places: Iterable[Place]) -> str:
    """The wettest of several places; dry for none."""
    return max((place.moisture for place in places), key=_WETNESS.index, default="dry")


def count_in(network: Network, section: str, spare: int, parallel: dict[str, int]) -> int:
    """Current-carrying conductors in a section, all circuits and spares together.

    Two a set for every circuit: a two-wire circuit has two, and of a three-wire
    circuit the neutral carries only the unbalance. Both inputs of a transfer
    switch count: both can be live while the utility comes back.

    References
    ----------
    ``neutral_ccc_count``, ``egc_ccc_count``.
    """
    count = spare
    for circuit in network.circuits:
        if section in circuit.sections:
            count += CARRYING_PER_SET * parallel.get(circuit.tag, 1)
    return count


def surroundings_of(
    book: Book, place: Place, circuit: Circuit, size: str, material: str, insulation: str, insulation_c: int, count: int
) -> Surroundings:
    """What a section makes of one conductor of the given size and insulation.

    References
    ----------
    ``ambient_correction``, ``ccc_adjustment``, ``ampacity_table``, ``ampacity_free_air``.
    """
    item = place.item
    adder = place.adder if insulation != _ROOFTOP_EXEMPT else None
    base = f"{circuit.tag}.{place.tag}"
    ambient: Number | None = place.ambient
    if ambient is not None and adder is not None:
        ambient = label(raised_ambient(ambient, adder), f"{base}.T_amb")
    factor = None if ambient is None else _factor(book, place, ambient, insulation_c)
    crowded = item.length.value > NIPPLE_FT + 1e-9
    count_factor = book.count_factor(count if crowded else 1)
    lookup = book.ampacity_free_air if item.method == "free air" else book.ampacity
    table = lookup(size, material, insulation_c)
    ampacity = None
    if table is not None and factor is not None:
        ampacity = label(corrected_ampacity(table, factor, count_factor), f"{base}.ampacity", f"I_{place.tag}")
        ampacity = _capped(book, place, ampacity, size, material, insulation, base)
    return Surroundings(
        place.tag,
        item.method,
        item.place,
        place.moisture,
        item.length.value,
        ambient if ambient is not None else float("nan"),
        adder,
        factor,
        count,
        count_factor,
        ampacity,
        False,
    )


def _capped(book: Book, place: Place, ampacity: Number, size: str, material: str, insulation: str, base: str) -> Number | None:
    """The ampacity held to the cap of a cable, where there is one.

    References
    ----------
    ``nm_cable_ampacity``: 334.80; ``se_cable_interior``: 338.10(B)(4)(a).
    """
    cap = cap_of(place.item, insulation, size)
    if cap is None:
        return ampacity
    highest = book.ampacity(size, material, cap.column_c)
    return None if highest is None else label(capped_ampacity(ampacity, highest, cap.cite), f"{base}.capped", f"I_{place.tag}_cap")


def _factor(book: Book, place: Place, ambient: Number, insulation_c: int) -> Term | None:
    """The ambient factor; above 1 only where the ambient is given."""
    factor = book.ambient_factor(value_of(ambient), insulation_c)
    if factor is not None and factor.value > 1.0 and not place.ambient_given:
        return Term(1.0, symbol="f_amb", meaning="ambient not given, no factor above 1", origin=f"section.{place.tag}.ambient")
    return factor


def carries_whole_dwelling(network: Network, circuit: Circuit) -> bool:
    """Whether a circuit carries the whole load of the dwelling through one device.

    References
    ----------
    ``dwelling_83pct``: only where every panel and load hangs on the circuit and
    no source reaches it from beside, behind the service disconnect.
    """
    below = set(network.below(circuit.down))
    panels = [node.tag for node in network.of_kind(Kind.PANEL) if not node.item.generation]
    fed = [node.item.panel if node.item.panel in below else node.tag for node in network.of_kind(Kind.LOAD)]
    if not panels or not below.issuperset((*panels, *fed)):
        return False
    beyond = network.path_up(circuit.up)
    beside = [step for node in (circuit.up, *(step.up for step in beyond)) for step in network.children.get(node, ())]
    on_the_way = {circuit.tag, *(step.tag for step in beyond)}
    joining = (step for step in beside if step.tag not in on_the_way and network.nodes[step.up].kind not in (Kind.SERVICE, Kind.JUNCTION))
    return not any(network.nodes[tag].kind in (Kind.UNIT, Kind.INVERTER) for step in joining for tag in network.below(step.down))
