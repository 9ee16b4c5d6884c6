"""Smaller and larger overcurrent devices, always of a standard rating."""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.advice.records import Candidate, Setting
from linecalc.advice.ways_conductors import sized_circuit
from linecalc.check import Check
from linecalc.rules.art240_devices import protecting_device
from linecalc.sizing.records import Device
from linecalc.study import Study
from linecalc.term import value_of

STEPS = 8


def lower_device(study: Study, check: Check) -> Iterator[Candidate]:
    """The next smaller standard ratings of a circuit's device."""
    circuit = sized_circuit(study, check.subject)
    if circuit is not None and circuit.device is not None and not circuit.device.selected:
        yield from _lower(study, circuit.device)


def raise_device(study: Study, check: Check) -> Iterator[Candidate]:
    """The next larger standard ratings of a circuit's device."""
    circuit = sized_circuit(study, check.subject)
    if circuit is None or circuit.device is None or circuit.device.selected:
        return
    now = value_of(circuit.device.rating)
    for rating in [rating for rating in study.book.standard_ratings() if rating > now][:STEPS]:
        yield _to(circuit.device, rating, "raise")


def lower_device_of_panel(study: Study, check: Check) -> Iterator[Candidate]:
    """The next smaller standard ratings of the device that protects a bus."""
    if check.subject in study.project.panel:
        device = protecting_device(study.sized, check.subject)
        if device is not None and not device.selected:
            yield from _lower(study, device)


def _lower(study: Study, device: Device) -> Iterator[Candidate]:
    now = value_of(device.rating)
    below = [rating for rating in study.book.standard_ratings() if rating < now]
    for rating in reversed(below[-STEPS:]):
        yield _to(device, rating, "lower")


def _to(device: Device, rating: float, verb: str) -> Candidate:
    now = value_of(device.rating)
    owner = f"the {device.kind} of {device.owner}" if device.owner == device.where else f"the {device.kind} of {device.owner} in {device.where}"
    return Candidate((Setting(device.path, f"{rating:g} A"),), f"{verb} {owner} to {rating:g} A (now {now:g} A)")


def raise_device_of_panel(study: Study, check: Check) -> Iterator[Candidate]:
    """The next larger standard ratings of the device that protects a bus."""
    if check.subject in study.project.panel:
        device = protecting_device(study.sized, check.subject)
        if device is not None and not device.selected:
            now = value_of(device.rating)
            for rating in [rating for rating in study.book.standard_ratings() if rating > now][:STEPS]:
                yield _to(device, rating, "raise")
