"""Article 250: electrodes, electrode conductors, bonding jumpers, the grounded conductor of the service.

References
----------
``electrode_system`` 250.50 and 250.53, ``gec`` Table 250.66, ``electrode_limits`` 250.66(A) to (C),
``main_bonding_jumper`` 250.28(D), ``grounded_service_conductor`` 250.24, ``separately_derived`` 250.30,
``separate_building`` 250.32, ``electrode_taps`` 250.64(D).
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.codebook.sizes import size_index
from linecalc.sizing.grounding_records import LISTED, BondPoint, BondRole, ElectrodeConductor
from linecalc.sizing.records import Sized

NEED_COMPANY = ("rod", "pipe", "plate")
WATER_PIPE = "water pipe"
CONCRETE = "concrete-encased"


def electrodes(sized: Sized) -> Iterator[Check]:
    """The electrodes of the dwelling are known, and none stands alone that may not.

    References
    ----------
    ``electrode_system``: 250.50, 250.53(A)(2), 250.53(D)(2).
    """
    stated = sized.network.project.grounding.electrodes
    if stated is None:
        needs = ("grounding.electrodes",)
        yield not_checked(sized.book, "electrode_system", "service", "the grounding electrodes are not described", needs)
        return
    yield _judged(sized, "service", stated)
    for point in sized.grounding.points:
        own = sized.network.nodes[point.tag].item.electrodes if point.role is BondRole.BUILDING else None
        if own is not None:
            yield _judged(sized, point.tag, own)


def _judged(sized: Sized, subject: str, stated: tuple[str, ...]) -> Check:
    names = ", ".join(stated)
    if not stated:
        return remark(sized.book, "electrode_system", subject, Level.FAIL, "there is no grounding electrode")
    if len(stated) == 1 and stated[0] in NEED_COMPANY:
        message = f"one {stated[0]} alone needs a second electrode, unless it is measured at 25 ohms or less"
        return remark(sized.book, "electrode_system", subject, Level.WARN, message)
    if set(stated) == {WATER_PIPE}:
        return remark(sized.book, "electrode_system", subject, Level.FAIL, "a water pipe needs an electrode of another kind beside it")
    return remark(sized.book, "electrode_system", subject, Level.PASS, f"electrodes bonded together: {names}")


def electrode_conductors(sized: Sized) -> Iterator[Check]:
    """The electrode conductor at each place reaches what its electrodes ask for.

    References
    ----------
    ``gec``: Table 250.66; ``electrode_limits``: 250.66(A) to (C).
    """
    for point in sized.grounding.points:
        conductor = point.electrode
        if point.needs and not conductor.given:
            message = f"electrode conductor {conductor.size} {conductor.material} at most: the electrodes are not described"
            yield not_checked(sized.book, "gec", point.tag, message, point.needs)
            continue
        yield _electrode_check(sized, point, conductor)
        yield from _other_reading(sized, point, conductor)


def _electrode_check(sized: Sized, point: BondPoint, conductor: ElectrodeConductor) -> Check:
    text = f"electrode conductor {conductor.size} {conductor.material} by {point.ungrounded} ({point.role.value}): {_each(conductor)}"
    return limit_check(
        sized.book,
        "gec",
        point.tag,
        sized.book.area_cmil(conductor.size),
        sized.book.area_cmil(conductor.needed_size),
        "cmil",
        text,
        f"{text}; too small",
        Sense.AT_LEAST,
        terms=(point.ungrounded_cmil,),
    )


def _other_reading(sized: Sized, point: BondPoint, conductor: ElectrodeConductor) -> Iterator[Check]:
    """The limit for concrete read as a least size, as some readers do."""
    limit = next((need.limit_size for need in conductor.electrodes if need.kind == CONCRETE), None)
    if limit is not None and size_index(conductor.size) < size_index(limit):
        message = f"readers differ: some want {limit} to a concrete-encased electrode even where the table asks for {conductor.table_size}"
        yield remark(sized.book, "electrode_limits", point.tag, Level.NOTE, message)


def _each(conductor: ElectrodeConductor) -> str:
    if not conductor.electrodes:
        return f"the table asks for {conductor.table_size}"
    return ", ".join(
        f"to {need.kind} {need.needed_size}" + (" (its limit)" if need.limit_size == need.needed_size != conductor.table_size else "")
        for need in conductor.electrodes
    )


def bonding_jumpers(sized: Sized) -> Iterator[Check]:
    """Each main or system bonding jumper is listed with its equipment or reaches the table.

    References
    ----------
    ``main_bonding_jumper``: 250.28(D).
    """
    for point in sized.grounding.points:
        jumper = point.jumper
        if jumper is None:
            continue
        name = "system bonding jumper" if point.role is BondRole.SOURCE else "main bonding jumper"
        if jumper.kind == LISTED:
            message = f"the {name} is that listed with the equipment; a wire would be {jumper.needed_size} {jumper.material}"
            yield remark(sized.book, "main_bonding_jumper", point.tag, Level.PASS, message, (point.ungrounded_cmil,))
            continue
        text = f"{name} of {jumper.size} {jumper.material} by {point.ungrounded}" + ("" if jumper.given else ", or the one listed with the equipment")
        terms = (point.ungrounded_cmil,) if jumper.area_cmil is None else (point.ungrounded_cmil, jumper.area_cmil)
        yield limit_check(
            sized.book,
            "main_bonding_jumper",
            point.tag,
            sized.book.area_cmil(jumper.size),
            sized.book.area_cmil(jumper.needed_size),
            "cmil",
            text,
            f"{text} is too small: {jumper.needed_size} is needed",
            Sense.AT_LEAST,
            terms=terms,
        )


def grounded_conductors(sized: Sized) -> Iterator[Check]:
    """The grounded conductor comes to each service disconnect, large enough for fault current.

    References
    ----------
    ``grounded_service_conductor``: 250.24 and Table 250.102(C)(1).
    """
    for point in sized.grounding.points:
        grounded = point.grounded
        if grounded is None:
            continue
        if grounded.installed_cmil is None:
            message = f"no grounded conductor is brought to {point.tag}"
            yield remark(sized.book, "grounded_service_conductor", point.tag, Level.FAIL, message)
            continue
        text = f"grounded conductor {grounded.size} {grounded.material} in {point.circuit}, least {grounded.needed_size} by {point.ungrounded}"
        yield limit_check(
            sized.book,
            "grounded_service_conductor",
            point.tag,
            grounded.installed_cmil,
            grounded.needed_cmil,
            "cmil",
            text,
            f"{text}: too small for fault current",
            Sense.AT_LEAST,
            terms=(point.ungrounded_cmil,),
        )


def several_disconnects(sized: Sized) -> Iterator[Check]:
    """With several service disconnects, how their electrode conductors meet.

    References
    ----------
    ``electrode_taps``: 250.64(D).
    """
    points = [point for point in sized.grounding.points if point.role is BondRole.SERVICE]
    if len(points) > 1:
        sizes = ", ".join(f"{point.tag} {point.electrode.size} {point.electrode.material}" for point in points)
        message = f"{len(points)} service disconnects: one conductor each, or taps on a common conductor ({sizes})"
        yield remark(sized.book, "electrode_taps", "service", Level.NOTE, message)
