"""Article 220: the calculated load against service and mains, the methods, and what they do not permit.

References
----------
``service_load_rating`` 230.42, 230.79; ``feeder_load_rating`` 215.2, 215.3;
``load_total`` 220.40; ``load_optional_dwelling`` 220.82; ``load_measured`` 220.87.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.calc.overcurrent import device_need, next_standard_at_or_above
from linecalc.check import Check, Level, limit_check, not_checked, remark
from linecalc.network.dwelling_records import METHOD_CITE, BusLoad, LoadMethod, MethodLoad
from linecalc.network.loads import term_of
from linecalc.network.records import Kind, Mode, ModeCurrent
from linecalc.project.model import SERVICE
from linecalc.sizing.records import Sized
from linecalc.term import Number, label, named, total, value_of
from linecalc.units import Quantity

NAMES = {
    LoadMethod.STANDARD: "Part III",
    LoadMethod.OPTIONAL: "the optional method for dwellings",
    LoadMethod.EXISTING: "the method for existing dwellings",
    LoadMethod.MEASURED: "measured demand",
}


def service_rating(sized: Sized) -> Iterator[Check]:
    """The calculated load against the service rating: whether the service must be upgraded.

    References
    ----------
    ``service_load_rating``: 230.42, 230.79.
    """
    service = sized.network.project.service
    supply = [sized.circuit(step.tag).currents for step in sized.network.children.get(SERVICE, ())]
    if service is None or not supply or any(found.loads_not_given for found in supply):
        return
    modes = [mode for found in supply if (mode := found.of(Mode.SUPPLY)) is not None]
    amperes = total([_amperes(mode) for mode in modes])
    load = label(named(amperes, "I_service", "A", "calculated load of the service", "service_load_rating"), "service.I_load")
    if value_of(load) == 0.0:
        return
    rating = term_of(service.rating, "I_rated", "service.rating", "service rating")
    least = next_standard_at_or_above(sized.book.standard_ratings(), value_of(load))
    upgrade = f", to {least:g} A at least" if least else ""
    yield limit_check(
        sized.book,
        "service_load_rating",
        SERVICE,
        load,
        rating,
        "A",
        "the service carries the calculated load: no service upgrade",
        f"the calculated load is above the service rating: a service upgrade{upgrade}, or listed load management",
        flip=f"passes down to a rating of {least:g} A" if least else None,
    )


def _amperes(mode: ModeCurrent) -> Number:
    if value_of(mode.noncontinuous) == 0.0:
        return mode.continuous
    return mode.noncontinuous if value_of(mode.continuous) == 0.0 else mode.continuous + mode.noncontinuous


def panel_mains(sized: Sized) -> Iterator[Check]:
    """The calculated load of each panel against its main, and against a main that was reduced.

    References
    ----------
    ``feeder_load_rating``: 215.2(A)(1), 215.3.
    """
    for node in sized.network.of_kind(Kind.PANEL):
        feeder = sized.network.parent.get(node.tag)
        if feeder is None or not isinstance(node.item.main, Quantity):
            continue
        currents = sized.circuit(feeder.tag).currents
        mode = currents.of(Mode.SUPPLY)
        if mode is None or currents.loads_not_given or value_of(_amperes(mode)) == 0.0:
            continue
        load = label(named(_amperes(mode), "I_load", "A", f"calculated load of {node.tag}", "feeder_load_rating"), f"{node.tag}.I_load")
        main = term_of(node.item.main, "I_main", f"panel.{node.tag}.main", f"main of {node.tag}")
        yield limit_check(
            sized.book,
            "feeder_load_rating",
            node.tag,
            load,
            main,
            "A",
            "the main carries the calculated load",
            "the calculated load is above the main",
        )
        if node.item.main_before is not None:
            yield _reduced(sized, node.tag, node.item.main_before, main, mode)


def _reduced(sized: Sized, tag: str, before: Quantity, main: Number, mode: ModeCurrent) -> Check:
    """Whether a reduced main is enough, the continuous part at 125 percent."""
    need = label(device_need(mode.continuous, mode.noncontinuous, "feeder_continuous_ocpd"), f"{tag}.reduced_main")
    least = next_standard_at_or_above(sized.book.standard_ratings(), value_of(need))
    words = f"main reduced from {before.value:g} A to {value_of(main):g} A"
    return limit_check(
        sized.book,
        "feeder_load_rating.reduced_main",
        tag,
        need,
        main,
        "A",
        f"{words}: enough for the calculated load",
        f"{words}: not enough for the calculated load",
        flip=f"passes down to a main of {least:g} A" if least else None,
    )


def methods(sized: Sized) -> Iterator[Check]:
    """Which method decides on each bus, what the others give and why.

    References
    ----------
    ``load_total``, ``load_optional_dwelling``, ``load_existing_dwelling``, ``load_measured``.
    """
    for bus in sized.currents.dwelling.buses:
        if bus.used is None:
            missing = "the load cannot be computed by any method asked for"
            yield not_checked(sized.book, "load_total", bus.tag, missing, bus.needs or ("a method that is lawful here",))
            continue
        others = [_other(method) for method in bus.methods if method is not bus.used]
        asked = "the lowest lawful method decides: " if len(bus.methods) > 1 else ""
        message = f"{asked}{NAMES[bus.used.method]} gives {value_of(bus.used.current_a):g} A{''.join(f'; {text}' for text in others)}"
        usable = [method for method in bus.methods if method.current_a is not None and method.total_va is not None]
        terms = tuple(term for method in usable for term in (method.total_va, method.current_a))
        neutral = () if bus.neutral is None else (bus.neutral.current_a,)
        rule = f"{METHOD_CITE[bus.used.method]}.method"
        yield remark(sized.book, rule, bus.tag, Level.NOTE, message, (*terms, *neutral))


def _other(method: MethodLoad) -> str:
    name = NAMES[method.method]
    return f"{name} {method.why}" if method.current_a is not None else f"not {name}: {method.why}"


def measured_demand_refused(sized: Sized) -> Iterator[Check]:
    """Measured demand is asked for where the edition does not permit it, or its data is missing.

    References
    ----------
    ``load_measured``: 220.87.
    """
    bus = sized.currents.dwelling.whole()
    method = None if bus is None else bus.of(LoadMethod.MEASURED)
    if bus is None or method is None or method.current_a is not None:
        return
    if method.needs:
        yield not_checked(sized.book, "load_measured", bus.tag, f"measured demand: {method.why}", method.needs)
        return
    beside = "" if bus.used is None else f"; {NAMES[bus.used.method]} is used instead"
    yield remark(sized.book, "load_measured", bus.tag, Level.WARN, f"measured demand is not usable: {method.why}{beside}")


def other_readings(sized: Sized) -> Iterator[Check]:
    """Where readings of a method differ: what the other one gives, a warning where it breaks a rating.

    References
    ----------
    ``load_optional_dwelling``, ``load_existing_dwelling``: readers differ on EV supply
    equipment and on existing heating and cooling.
    """
    for bus in sized.currents.dwelling.buses:
        for method in bus.methods:
            for reading in method.readings if method is bus.used else ():
                least = min(_ratings(sized, bus), default=float("inf"))
                breaks = reading.current_a > least >= value_of(bus.used.current_a)
                level = Level.WARN if breaks else Level.NOTE
                against = f", above {least:g} A" if breaks else ""
                message = f"readings differ: {reading.text} gives {reading.current_a:g} A{against}"
                yield remark(sized.book, f"{METHOD_CITE[method.method]}.reading", bus.tag, level, message)


def _ratings(sized: Sized, bus: BusLoad) -> Iterator[float]:
    """The ratings that carry the load of a bus: mains on the way, and the service."""
    for tag in bus.nodes:
        node = sized.network.nodes[tag]
        if node.kind is Kind.PANEL and isinstance(node.item.main, Quantity):
            yield node.item.main.value
        if node.kind is Kind.SERVICE:
            yield node.item.rating.value
