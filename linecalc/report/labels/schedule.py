"""The label schedule of a study: all labels in the order of the walk from the service to the array, with local changes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from linecalc.report.labels import photovoltaic, sources, storage_and_service
from linecalc.report.labels.records import Label, Signal
from linecalc.project.devices import LABEL_KEYS, LabelChange
from linecalc.study import Study

Writer = Callable[[Study], Iterator[Label]]

WRITERS: tuple[Writer, ...] = (
    sources.meter,
    storage_and_service.service,
    sources.directory,
    photovoltaic.rapid_shutdown,
    storage_and_service.storage_placard,
    storage_and_service.standby,
    storage_and_service.storage_shutdown,
    sources.several_sources,
    sources.source_breakers,
    sources.source_disconnects,
    storage_and_service.storage_disconnects,
    photovoltaic.pv_disconnects,
    photovoltaic.dc_raceways,
    storage_and_service.panel_directories,
)


def label_schedule(study: Study) -> tuple[Label, ...]:
    """Every label of a design, as the AHJ or the utility changed it where the project says so.

    References
    ----------
    Each label carries its own section; ``label_stock`` 110.21(B) for all.
    """
    changes = study.project.label
    found = [changed for writer in WRITERS for label in writer(study) if (changed := _changed(label, changes.get(label.key)))]
    return (*found, *_additional(changes))


def _changed(label: Label, change: LabelChange | None) -> Label | None:
    """The label with a local change; None where it is left out."""
    if change is None:
        return label
    if change.omit:
        return None
    signal = Signal(change.header) if change.header is not None else label.signal
    color = change.color or (signal.color if change.header is not None else label.color)
    return replace(
        label, where=change.where or label.where, signal=signal, color=color, text=change.text or label.text, changed_by=change.source
    )


def _additional(changes: dict[str, LabelChange]) -> Iterator[Label]:
    """Labels that only the AHJ or the utility asks for."""
    for key in sorted(changes):
        change = changes[key]
        if key in LABEL_KEYS or change.omit:
            continue
        signal = Signal(change.header) if change.header is not None else Signal.NONE
        yield Label(key, change.where or "", signal, change.color or signal.color, change.text or "", "", change.source, changed_by=change.source)
