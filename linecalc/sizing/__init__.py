"""Currents to Sized: everything left out is chosen, everything given stays.

The order: overcurrent devices, conductors, neutrals, grounding conductors,
raceways; then the strings and buses that the rules compare.
"""

from __future__ import annotations

from linecalc.network.build import natural
from linecalc.network.currents import Currents
from linecalc.network.records import Assumption
from linecalc.sizing.buses import bus_figures, supply_side_figures
from linecalc.sizing.circuits import Surveyed, size_circuit
from linecalc.sizing.devices import size_devices
from linecalc.sizing.drop import with_rises
from linecalc.sizing.fault import fault_figures
from linecalc.sizing.grounding_system import grounding_system
from linecalc.sizing.raceways import size_raceways, spare_sizes
from linecalc.sizing.records import Sized
from linecalc.sizing.strings import string_figures
from linecalc.sizing.surroundings import place_of


def size(currents: Currents) -> Sized:
    """Choose what the project leaves out.

    Raises
    ------
    TableError
        A value is outside every code table.
    """
    network, book = currents.network, currents.book
    assumptions: list[Assumption] = list(currents.assumptions)
    places = {tag: place_of(network, book, tag, assumptions) for tag in sorted(network.project.section, key=natural)}
    parallel = {circuit.tag: circuit.item.parallel or 1 for circuit in network.circuits}
    surveyed = Surveyed(currents, places, size_devices(currents), parallel)
    sized = tuple(size_circuit(circuit, surveyed, assumptions) for circuit in network.circuits)
    circuits = with_rises(sized, network)
    strings = string_figures(network, book, assumptions)
    raceways = size_raceways(network, book, circuits)
    assumptions.extend(spare_sizes(raceways))
    buses = bus_figures(currents, circuits)
    supply = supply_side_figures(currents, circuits)
    grounding = grounding_system(network, book, circuits)
    faults = fault_figures(currents, circuits, assumptions)
    return Sized(network, currents, book, circuits, raceways, strings, buses, supply, grounding, tuple(dict.fromkeys(assumptions)), faults)
