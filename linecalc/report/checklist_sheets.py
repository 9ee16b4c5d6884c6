"""Questions of the checklist about sheets, drawing and labels."""

from __future__ import annotations

import re

from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN
from linecalc.diagram.scene import SHEET_HEIGHT_IN, SHEET_WIDTH_IN
from linecalc.diagram.texts import title_block
from linecalc.report.checklist_fact import Fact, all_of
from linecalc.report.labels import label_schedule
from linecalc.study import Study
from linecalc.units import Quantity

_IDENTIFIER = re.compile(r"[A-Z]-\d\d\d")


def sheet_index(study: Study) -> Fact:
    """An index of the sheets of a set."""
    return Fact(True, "sheet E-001 of the permit set lists every sheet")


def sheet_number(study: Study) -> Fact:
    """The sheet's number and the total count."""
    count = title_block(study).sheet_count
    return Fact("of" in count, f"title block: {count}")


def sheet_identifier(study: Study) -> Fact:
    """Discipline letter, type digit and sequence."""
    sheet = title_block(study).sheet
    return Fact(bool(_IDENTIFIER.fullmatch(sheet)), f"title block: {sheet}")


def sheet_size(study: Study) -> Fact:
    """At least 11 x 17 in."""
    return Fact(min(SHEET_WIDTH_IN, SHEET_HEIGHT_IN) >= 11.0 and max(SHEET_WIDTH_IN, SHEET_HEIGHT_IN) >= 17.0, f"{SHEET_WIDTH_IN:g} x {SHEET_HEIGHT_IN:g} in")


def text_size(study: Study) -> Fact:
    """Ten-point text: capitals of 0.1 in."""
    return Fact(CAP_MIN_IN >= 0.1 - 1e-9, f"smallest capitals {CAP_MIN_IN:g} in, about ten-point text")


def lettering(study: Study) -> Fact:
    """Lettering of at least 1/8 in everywhere."""
    return Fact(CAP_MIN_IN >= 0.125 - 1e-9, f"smallest capitals {CAP_MIN_IN:g} in; {CAP_REVIEW_IN:g} in only for what a reviewer must read")


def legend(study: Study) -> Fact:
    """A legend of the symbols in use and the abbreviations."""
    return Fact(bool(study.network.nodes), "legend of the symbols used and list of the abbreviations used, on the drawing")


def symbols(study: Study) -> Fact:
    """US graphic symbols."""
    return Fact(bool(study.network.nodes), "graphic symbols after IEEE 315")


def legible(study: Study) -> Fact:
    """No page that does not belong."""
    return Fact(False, "for the reader to judge; the drawing is checked for overlaps and crossings, the pages are not")


def existing_and_new(study: Study) -> Fact:
    """Existing and new equipment told apart."""
    existing = [node.tag for node in study.network.nodes.values() if getattr(node.item, "existing", False)]
    return Fact(True, f"(E) existing: {', '.join(existing) or 'none'}; the rest (N) new")


def low_temperature(study: Study) -> Fact:
    """The lowest temperature with its source."""
    return _temperature(study.project.site.low_temperature, "site.low_temperature")


def high_temperature(study: Study) -> Fact:
    """The high temperature with its source."""
    return _temperature(study.project.site.high_temperature, "site.high_temperature")


def _temperature(found: Quantity | None, path: str) -> Fact:
    if found is None or not found.source:
        return Fact(False, f"not stated with its source: {path}")
    return Fact(True, f"{found.as_written}, {found.source}")


def label_values(study: Study) -> Fact:
    """Values on labels come from the calculation."""
    found = [(label.key, value) for label in label_schedule(study) for value in label.values]
    lacking = [f"{key} needs {value.needs}" for key, value in found if value.number is None]
    if not found:
        return Fact(False, "no label shows a value")
    return all_of(lacking, "missing", f"{len(found)} values filled in from the calculation")


def storage_label_values(study: Study) -> Fact:
    """The highest DC voltage on the storage labels."""
    values = [value for label in label_schedule(study) if label.key == "storage_disconnect" for value in label.values if value.name.startswith("Highest")]
    return all_of((value.needs for value in values if value.number is None), "missing", ", ".join(dict.fromkeys(value.text for value in values)))


def labels_drawn(study: Study) -> Fact:
    """Labels drawn beside the one-line."""
    return Fact(False, "labels are drawn at true size on sheet E-604 of the permit set, not beside the single-line")


def sprinkler(study: Study) -> Fact:
    """Ridge setback with sprinklers."""
    return Fact(False, "roof setbacks are no part of an electrical calculation")
