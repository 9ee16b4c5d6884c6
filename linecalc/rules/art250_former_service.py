"""Article 250: an old main panel that becomes a subpanel when the service disconnect moves ahead of it.

References
----------
``former_service`` 250.24, 250.142(B); ``range_dryer_frames`` 250.140; ``feeder_grounding`` 215.6, 250.142(B);
``panel_grounding_bus`` 408.40.
"""

from __future__ import annotations

from collections.abc import Iterator

from linecalc.check import Check, Level, not_checked, remark
from linecalc.sizing.grounding_records import FormerService
from linecalc.sizing.records import Sized

THREE_WIRE = {
    "range": ("range_dryer_frames", "an existing three-wire range circuit with a bare neutral may use it for grounding only from service equipment"),
    "dryer": ("range_dryer_frames", "an existing three-wire dryer circuit with a bare neutral may use it for grounding only from service equipment"),
    "feeder": ("feeder_grounding", "an existing three-wire feeder to another panel has no grounding conductor apart from its neutral"),
}


def former_services(sized: Sized) -> Iterator[Check]:
    """What an old main panel needs when it is no longer the service equipment.

    References
    ----------
    ``former_service``: 250.24, 250.142(B); ``panel_grounding_bus``: 408.40.
    """
    for panel in sized.grounding.former:
        if panel.stated is None:
            message = "an existing panel behind new equipment: whether it was the service equipment is not given"
            yield not_checked(sized.book, "former_service", panel.tag, message, (f"panel.{panel.tag}.former_service",))
            continue
        yield _four_wire(sized, panel)
        yield _stated(sized, panel, "electrode_conductor_moved", panel.electrode_conductor_moved, "former_service.electrode",
                      "the electrode conductor and the bonds to piping are moved to the new service disconnect",
                      "the electrode conductor still ends in the old panel")  # fmt: skip
        yield _stated(sized, panel, "grounding_bus", panel.grounding_bus_separate, "panel_grounding_bus",
                      "grounding conductors land on a bar of their own, apart from the neutrals",
                      "there is no bar for grounding conductors apart from the neutrals")  # fmt: skip
        yield from _three_wire(sized, panel)


def _four_wire(sized: Sized, panel: FormerService) -> Check:
    if panel.four_wire:
        message = f"{panel.tag} is now fed by four wires, {panel.feeder}, neutral and grounding conductor apart"
        return remark(sized.book, "former_service", panel.tag, Level.PASS, message)
    message = f"{panel.tag} was the service equipment; its feeder {panel.feeder} needs a neutral and a grounding conductor apart"
    return remark(sized.book, "former_service", panel.tag, Level.FAIL, message)


def _stated(sized: Sized, panel: FormerService, key: str, stated: bool | None, rule: str, passing: str, breaking: str) -> Check:
    if stated is None:
        return not_checked(sized.book, rule, panel.tag, f"not given for the old main panel {panel.tag}: {key}", (f"panel.{panel.tag}.{key}",))
    return remark(sized.book, rule, panel.tag, Level.PASS if stated else Level.FAIL, passing if stated else breaking)


def _three_wire(sized: Sized, panel: FormerService) -> Iterator[Check]:
    if panel.three_wire is None:
        message = "whether three-wire range, dryer or feeder circuits leave the old main panel is not given"
        yield not_checked(sized.book, "range_dryer_frames", panel.tag, message, (f"panel.{panel.tag}.three_wire",))
        return
    if not panel.three_wire:
        yield remark(sized.book, "range_dryer_frames", panel.tag, Level.PASS, "no three-wire range, dryer or feeder circuit leaves the old main panel")
    for kind in panel.three_wire:
        rule, why = THREE_WIRE[kind]
        yield remark(sized.book, rule, panel.tag, Level.WARN, f"{why}; {panel.tag} is service equipment no longer: rewire it with four wires, or ask the AHJ whether an insulated or covered neutral may stay")
