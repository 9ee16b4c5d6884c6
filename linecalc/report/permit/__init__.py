"""The set of sheets for a permit, as one PDF: from a Study to items, from items through the template to pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from linecalc.report.content import Sheet
    from linecalc.study import Study


def permit_pdf(study: Study, content: Sheet, calculation_paper: str = "ansi-b") -> bytes:
    """The whole set. ``calculation_paper`` is ``ansi-b`` or ``letter``.

    Raises
    ------
    RefusedError
        The single-line diagram does not fit on its sheets.
    """
    from linecalc.report.permit.compose import pdf
    from linecalc.report.permit.sheets import permit_sheets

    return pdf(study, permit_sheets(study, content, calculation_paper), "permit set")


def sheet_pdf(study: Study, content: Sheet) -> bytes:
    """The calculation sheet alone, on letter paper."""
    from linecalc.report.permit.compose import pdf
    from linecalc.report.permit.sheets import calculation_sheet

    return pdf(study, (calculation_sheet(content),), "calculation sheet")
