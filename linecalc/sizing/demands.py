"""Ampacities that no operating mode shows: feeder segments, taps, generators, several motors."""

from __future__ import annotations

from collections.abc import Mapping

from linecalc.calc.dwelling_load import motor_addition_current
from linecalc.calc.interconnection import feeder_segment_need, source_demand
from linecalc.calc.motor import several_motors_need
from linecalc.calc.source import generator_conductor_need
from linecalc.network.build import Network
from linecalc.network.currents import Currents
from linecalc.network.loads import term_of
from linecalc.network.records import Circuit, Demand, Kind, Mode, Node
from linecalc.sizing.ahead import serves_loads
from linecalc.sizing.joining import joints_upstream
from linecalc.sizing.motor import MOTORS, compressor_currents, full_load_current, motor_behind
from linecalc.sizing.power_control import source_currents
from linecalc.sizing.records import Device
from linecalc.sizing.taps import tap_demands
from linecalc.term import Number, label, value_of
from linecalc.units import Quantity


def demands_of(circuit: Circuit, currents: Currents, devices: Mapping[str, Device | None]) -> tuple[Demand, ...]:
    """Every such demand on one circuit.

    References
    ----------
    ``feeder_connection``, ``feeder_taps``, ``generator_conductor``, ``motor_conductor_several``.
    """
    node = currents.network.nodes[circuit.down]
    if node.kind is Kind.GENERATOR:
        return _generator_demand(node, circuit)
    if circuit.item.tap:
        return tap_demands(circuit, currents, devices)
    return (*_segment(circuit, currents, devices), *_several_motors(circuit, currents))


def _several_motors(circuit: Circuit, currents: Currents) -> tuple[Demand, ...]:
    """A feeder of motors given as fixed loads: its load and 25 percent of the largest motor.

    A calculated load holds that addition already.
    """
    supply = currents.of(circuit).of(Mode.SUPPLY)
    if supply is None or motor_behind(currents.network, circuit) is not None:
        return ()
    motors = [_running(node) for node in _uncalculated_motors(circuit.down, currents)]
    if not motors:
        return ()
    load = supply.continuous + supply.noncontinuous if value_of(supply.continuous) else supply.noncontinuous
    need = label(several_motors_need(load, motor_addition_current(motors)), f"{circuit.tag}.motors")
    return (Demand("motors", need, "motor_conductor_several", "25 % of the largest motor beside the load"),)


def _running(motor: Node) -> Number:
    return full_load_current(motor) if motor.item.kind == "motor" else compressor_currents(motor)[0]


def _uncalculated_motors(tag: str, currents: Currents) -> list[Node]:
    """The motors that hang on a node or below it and are in no calculated load."""
    network: Network = currents.network
    if tag in currents.calculated:
        return []
    found = [node for node in network.of_kind(Kind.LOAD) if node.item.kind in MOTORS and tag in (node.item.panel, node.tag)]
    below = [motor for step in network.children.get(tag, ()) for motor in _uncalculated_motors(step.down, currents)]
    return [node for node in found if node not in below] + below


def _segment(circuit: Circuit, currents: Currents, devices: Mapping[str, Device | None]) -> tuple[Demand, ...]:
    """The feeder segment beyond a connection where the utility and other sources add.

    References
    ----------
    ``feeder_connection``: 705.12(A)(2) in 2023, 705.12(B)(1) in 2020, 705.12(B)(2)(1) in 2017.
    """
    network, device = currents.network, devices[circuit.tag]
    joints = [joint for joint in joints_upstream(network, circuit, devices) if set(joint.nodes) & set(currents.sources)]
    if not joints or device is None or not serves_loads(network, circuit.down):
        return ()
    found = [currents.sources[tag].export_a for joint in joints for tag in joint.nodes if tag in currents.sources]
    counted = source_currents(network.project, currents.book, circuit.tag, found)
    sources = label(source_demand(counted, "feeder_connection"), f"{circuit.tag}.segment.sources")
    need = label(feeder_segment_need(device.rating, sources), f"{circuit.tag}.segment")
    why = f"sources join at {' and '.join(joint.place for joint in joints)}, upstream of this segment"
    return (Demand("segment", need, "feeder_connection", why),)


def _generator_demand(generator: Node, circuit: Circuit) -> tuple[Demand, ...]:
    """What the conductors ahead of the first device of a generator carry.

    References
    ----------
    ``generator_conductor``: 445.13(A).
    """
    if isinstance(generator.item.device, Quantity):
        return ()
    rated = term_of(generator.item.current, "I_gen", f"generator.{generator.tag}.current", "rated current of the generator")
    if generator.item.overload_protected:
        return (Demand("generator", rated, "generator_conductor", f"{generator.tag} cannot be overloaded by its design, 100 % of its nameplate"),)
    need = label(generator_conductor_need(rated), f"{circuit.tag}.generator")
    return (Demand("generator", need, "generator_conductor", f"no device at {generator.tag}, 115 % of its nameplate"),)
