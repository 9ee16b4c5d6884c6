"""Residential and fire codes (IRC R328 and R330, NFPA 855): energy of storage by unit and by place, spacing, distances.

References
----------
``ess_energy``, ``ess_place``: the limits are those of the code that the project states, in table ``storage-limits``;
``listed_instructions`` 110.3(B) for clearances.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from linecalc.calc.storage import energy_together
from linecalc.check import Check, Level, Sense, limit_check, not_checked, remark
from linecalc.network.loads import term_of
from linecalc.sizing.records import Sized
from linecalc.sizing.storage_places import (
    GARAGES,
    HABITABLE,
    OUTSIDE,
    Limit,
    Stored,
    adopted,
    energies,
    item_of,
    limit_of,
    location_rules_apply,
    section_of,
    standing_in,
    stored_of,
)
from linecalc.term import Number, label
from linecalc.units import Quantity

SYSTEM = "system"
ASSEMBLY = "assembly"
_PROTECTED = {"barrier": "behind a barrier", "raised": "raised above the reach of vehicles", "out of path": "out of the path of vehicles"}


def adopted_code(sized: Sized) -> Iterator[Check]:
    """Which residential or fire code the storage is held to; where none is stated, that nothing was compared.

    References
    ----------
    ``ess_place``.
    """
    found = stored_of(sized.network)
    if not found:
        return
    codes = adopted(sized.network)
    if not codes:
        message = "site.irc_edition and site.fire_code_edition are not stated: energy by place, spacing and distances of the storage are not compared"
        yield not_checked(sized.book, "ess_place", SYSTEM, message, ("site.irc_edition", "site.fire_code_edition"))
        return
    yield remark(sized.book, "ess_place", SYSTEM, Level.NOTE, f"storage is held to {' and '.join(codes)}, as the project states")
    if "IRC 2018" in codes:
        message = "IRC 2018 (R327) names no energies: only listing and places, storage in habitable space left out"
        yield remark(sized.book, "ess_energy", SYSTEM, Level.NOTE, message)


def _article(space: str) -> str:
    return space.replace("other", "another", 1) if space.startswith("other") else f"a {space}"


def _cited(check: Check, limit: Limit) -> Check:
    """The check under the citation of the adopted code."""
    return replace(check, citation=limit.citation)


def unit_energy(sized: Sized) -> Iterator[Check]:
    """Each storage unit stays within the energy of one unit; an assembly counts with its modules.

    References
    ----------
    ``ess_energy``.
    """
    found = stored_of(sized.network)
    for code in adopted(sized.network):
        limit = limit_of(sized.book, code, "unit")
        if limit is None:
            continue
        for stored in found:
            yield from _one_unit(sized, stored, found, code, limit)


def _one_unit(sized: Sized, stored: Stored, found: tuple[Stored, ...], code: str, limit: Limit) -> Iterator[Check]:
    if stored.node.data.listed_as is None:
        needs = (f"{stored.equipment}.listed_as",)
        check = not_checked(sized.book, "ess_energy.unit", stored.node.tag, "whether it is listed as a cabinet or within an assembly is not given", needs)
        yield _cited(check, limit)
        return
    if stored.node.data.listed_as == ASSEMBLY and stored.node is not stored.unit:
        return
    own = (stored,)
    if stored.node.data.listed_as == ASSEMBLY:
        own += tuple(other for other in found if other.unit is stored.node and other is not stored)
    name = "assembly " + " with ".join(other.node.tag for other in own) if len(own) > 1 else f"cabinet {stored.node.tag}"
    check = limit_check(
        sized.book,
        "ess_energy.unit",
        stored.node.tag,
        _energy(own, f"{stored.node.tag}.E_unit"),
        limit.term,
        "kWh",
        f"{name} is within the energy of one storage unit ({code})",
        f"{name} is above the energy of one storage unit ({code}); beyond it the rules for larger systems apply",
        broken=Level.WARN,
    )
    yield _cited(check, limit)


def _energy(found: tuple[Stored, ...], step_id: str) -> Number:
    values = energies(found)
    return values[0] if len(values) == 1 else label(energy_together(values), step_id)


def place_energy(sized: Sized) -> Iterator[Check]:
    """The nominal energy in each place stays within what the adopted code allows there.

    References
    ----------
    ``ess_energy``: per location; readings differ, so the total of the dwelling is printed too.
    """
    found = stored_of(sized.network)
    codes = adopted(sized.network)
    if not codes or not found:
        return
    for stored in found:
        if stored.space is None:
            needs = (f"{stored.table}.{stored.node.tag}.space",)
            yield not_checked(sized.book, "ess_energy.place", stored.node.tag, "where the storage stands is not given", needs)
    for (building, space), those in standing_in(found).items():
        for code in codes:
            yield from _one_place(sized, building, space, those, code)
    yield _total(sized, found)


def _one_place(sized: Sized, building: str | None, space: str, those: tuple[Stored, ...], code: str) -> Iterator[Check]:
    names, subject = ", ".join(stored.node.tag for stored in those), those[0].node.tag
    where = f"{space}, {building}" if building else space
    if space in HABITABLE:
        check = remark(sized.book, "ess_place.room", subject, Level.WARN, f"{names} in {_article(space)}: {code} does not allow storage there unless it is listed for such rooms")
        yield replace(check, citation=section_of(sized.book, code, "rooms"))
        return
    limit = limit_of(sized.book, code, item_of(space))
    if limit is None:
        return
    words = f"{names} ({where}): nominal energy in this place by {code}"
    check = limit_check(
        sized.book,
        "ess_energy.place",
        subject,
        _energy(those, f"{subject}.E_place"),
        limit.term,
        "kWh",
        f"{words} is within the limit",
        f"{words} is above the limit; beyond it the rules for larger systems apply",
        broken=Level.WARN,
    )
    yield _cited(check, limit)


def _total(sized: Sized, found: tuple[Stored, ...]) -> Check:
    total = _energy(found, "system.E_total")
    message = "nominal energy of the dwelling; limits are per place here, some reviewers read them as per dwelling"
    return remark(sized.book, "ess_energy.total", SYSTEM, Level.NOTE, f"{message}: {', '.join(stored.node.tag for stored in found)}", (total,))


def spacing(sized: Sized) -> Iterator[Check]:
    """Storage units in one place keep 3 ft between them, or have a fire test report for less.

    References
    ----------
    ``ess_place``.
    """
    for those in standing_in(stored_of(sized.network)).values():
        apart = tuple(stored for stored in those if stored.node.data.listed_as != ASSEMBLY or stored.node is stored.unit)
        if len(apart) < 2:
            continue
        for code in adopted(sized.network):
            limit = limit_of(sized.book, code, "spacing")
            for stored in apart if limit is not None else ():
                yield _cited(_apart(sized, stored, code, limit), limit)


def _apart(sized: Sized, stored: Stored, code: str, limit: Limit) -> Check:
    tag, path = stored.node.tag, f"{stored.table}.{stored.node.tag}.spacing"
    report = stored.node.data.fire_test or sized.network.project.attachments.fire_test_report
    if stored.node.item.spacing is None:
        return not_checked(sized.book, "ess_place.spacing", tag, "the distance to the next storage unit is not given", (path,))
    distance = term_of(stored.node.item.spacing, "d_units", path, "distance to the next storage unit")
    if report and distance.value < limit.term.value:
        message = f"{distance.value:g} in to the next storage unit, less than 3 ft by {code}, on the strength of: {report}"
        return remark(sized.book, "ess_place.spacing", tag, Level.PASS, message)
    return limit_check(
        sized.book,
        "ess_place.spacing",
        tag,
        distance,
        limit.term,
        "in",
        f"3 ft to the next storage unit are kept ({code})",
        f"less than 3 ft to the next storage unit, and no fire test report is named ({code})",
        Sense.AT_LEAST,
        Level.WARN,
    )


def doors_and_windows(sized: Sized) -> Iterator[Check]:
    """Storage outdoors and on exterior walls keeps 3 ft from doors and windows.

    References
    ----------
    ``ess_place``.
    """
    for stored in stored_of(sized.network):
        if stored.space not in OUTSIDE:
            continue
        for code in adopted(sized.network):
            limit = limit_of(sized.book, code, "doors")
            if limit is not None:
                yield _cited(_doors(sized, stored, code, limit), limit)


def _doors(sized: Sized, stored: Stored, code: str, limit: Limit) -> Check:
    tag, path = stored.node.tag, f"{stored.table}.{stored.node.tag}.door_distance"
    if stored.node.item.door_distance is None:
        return not_checked(sized.book, "ess_place.doors", tag, "the distance to doors and windows is not given", (path,))
    return limit_check(
        sized.book,
        "ess_place.doors",
        tag,
        term_of(stored.node.item.door_distance, "d_door", path, "distance to doors and windows"),
        limit.term,
        "in",
        f"3 ft to doors and windows are kept ({code})",
        f"less than 3 ft to a door or window ({code})",
        Sense.AT_LEAST,
        Level.WARN,
    )


def vehicles(sized: Sized) -> Iterator[Check]:
    """Storage in a garage is protected from vehicles, or out of their way.

    References
    ----------
    ``ess_place``: the codes leave the means to the AHJ.
    """
    codes = adopted(sized.network)
    for stored in stored_of(sized.network) if codes else ():
        if stored.space in GARAGES:
            yield replace(_vehicle(sized, stored), citation="; ".join(section_of(sized.book, code, "vehicles") for code in codes))


def _vehicle(sized: Sized, stored: Stored) -> Check:
    tag, stated = stored.node.tag, stored.node.item.vehicle_protection or stored.unit.item.vehicle_protection
    if stated is None:
        needs = (f"{stored.table}.{tag}.vehicle_protection",)
        return not_checked(sized.book, "ess_place.vehicles", tag, "how it is protected from vehicles is not given", needs)
    if stated == "none":
        return remark(sized.book, "ess_place.vehicles", tag, Level.WARN, f"{tag} in the {stored.space} is not protected from vehicles: ask the AHJ")
    return remark(sized.book, "ess_place.vehicles", tag, Level.PASS, f"{tag} in the {stored.space} stands {_PROTECTED[stated]}")


def mass_on_walls(sized: Sized) -> Iterator[Check]:
    """What hangs on a wall is within what the wall is stated to carry.

    References
    ----------
    ``ess_mass``: common practice; the structural review is the AHJ's.
    """
    if not location_rules_apply(sized.network):
        return
    for stored in stored_of(sized.network):
        if stored.node.item.mounting != "wall":
            continue
        tag, path = stored.node.tag, f"{stored.table}.{stored.node.tag}.wall_capacity"
        needs = [f"{stored.equipment}.mass"] if stored.node.data.mass is None else []
        needs += [path] if stored.node.item.wall_capacity is None else []
        if needs:
            yield not_checked(sized.book, "ess_mass", tag, "mass or bearing capacity of the wall is not given", tuple(needs))
            continue
        yield limit_check(
            sized.book,
            "ess_mass",
            tag,
            term_of(stored.node.data.mass, "m", f"{stored.equipment}.mass", f"mass of {tag}"),
            term_of(stored.node.item.wall_capacity, "m_wall", path, "what the wall carries"),
            "kg",
            "the wall is stated to carry it",
            "the wall is not stated to carry it",
            broken=Level.WARN,
        )


def clearances(sized: Sized) -> Iterator[Check]:
    """The clearances of the instructions are kept.

    References
    ----------
    ``listed_instructions``: 110.3(B).
    """
    for stored in stored_of(sized.network):
        needed, kept = stored.node.data.clearance, stored.node.item.clearance
        if not isinstance(needed, Quantity):
            continue
        tag, path = stored.node.tag, f"{stored.table}.{stored.node.tag}.clearance"
        if kept is None:
            yield not_checked(sized.book, "listed_instructions.clearance", tag, "the clearance that is kept is not given", (path,))
            continue
        yield limit_check(
            sized.book,
            "listed_instructions.clearance",
            tag,
            term_of(kept, "d_kept", path, "clearance that is kept"),
            term_of(needed, "d_needed", f"{stored.equipment}.clearance", "clearance of the instructions"),
            "in",
            "the clearance of the instructions is kept",
            "the clearance of the instructions is not kept",
            Sense.AT_LEAST,
        )
