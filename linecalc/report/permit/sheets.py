"""The sheets of a set: notes, single-line, schedules, calculations, labels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from linecalc.diagram import draw, render_svg
from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN
from linecalc.diagram.legend import legend_group
from linecalc.diagram.one_sheet import legend_kinds
from linecalc.diagram.plan import Plan
from linecalc.diagram.scene import Scene, Text
from linecalc.diagram.study_plan import plan_of
from linecalc.report.content import Fact, Sheet
from linecalc.report.labels import Label, label_schedule
from linecalc.report.permit.calculations import calculation_items, head_items, summary_items
from linecalc.report.permit.items import (
    Count,
    DrawingSheet,
    Heading,
    Index,
    Item,
    Paragraph,
    Picture,
    Rows,
    Sections,
    Sheets,
    TextSheet,
    Together,
    fact_items,
    run_of_facts,
)
from linecalc.report.permit.flow import flow
from linecalc.report.permit.label_items import columns_of, drawn_label
from linecalc.report.permit.listings import listing, shelves, spread
from linecalc.report.permit.typeset import in_lines
from linecalc.report.schedule_tables import conductor_table
from linecalc.report.tabular import grid_of, without
from linecalc.study import Study

#: Width of a sheet inside its margins, of one of two and of three columns of it, of a letter sheet.
WIDE_IN, COLUMN_IN, THIRD_IN, LETTER_IN = 16.0, 7.8, 5.06, 7.5
#: Height of a column of them; the template has the same margins.
_WIDE_HIGH_IN, _LETTER_HIGH_IN = 8.87, 8.35
#: What the heading of a sheet takes of its first page.
_HEADING_IN = 0.2
_COUNT_WORDS = ("sheet ", " of ")
#: What the first sheet says among the codes and not again as a fact of the job.
_AMONG_CODES = "Governing codes"
#: Columns of the conductor schedule that leave their room to the others on paper.
_NOT_ON_PAPER = ("System", "Length (m)")


def permit_sheets(study: Study, content: Sheet, calculation_paper: str) -> Sheets:
    """All sheets of the set, in their order."""
    plan = plan_of(study)
    drawings = tuple(drawing_sheet(scene) for scene in draw(study))
    labels = label_schedule(study)
    return (
        _front(content, plan, study),
        *drawings,
        _schedules(study, content),
        _calculations(content, calculation_paper),
        _labels(content, labels),
    )


def _front(content: Sheet, plan: Plan, study: Study) -> TextSheet:
    job = tuple(fact for fact in content.job if fact.label != _AMONG_CODES)
    groups = (
        (Heading("Project"), Paragraph(content.title), *fact_items(job)),
        (Heading("System summary"), *summary_items(content)),
        (Heading("Sheet index"), Index()),
        (Heading("Codes"), *_codes(study)),
        (Heading("Notes"), *_notes(content, plan)),
        (Heading("Legend"), _legend(plan)),
        (Heading("Abbreviations"), *_abbreviations(plan)),
    )
    return TextSheet("E-001", "Notes, legend, sheet index, summary", "ansi-b", (Sections(tuple(in_lines(group, COLUMN_IN) for group in groups)),))


def _codes(study: Study) -> Iterator[Item]:
    yield Paragraph(study.checked_against, f"NEC {study.book.edition}")
    yield from (Paragraph(code) for code in study.project.facts.codes)
    site = study.project.site
    stated = (("Residential code edition", site.irc_edition), ("Storage standard edition", site.fire_code_edition))
    yield from run_of_facts(tuple(Fact(word, text) for word, text in stated if text))
    yield from (Paragraph(amendment.text, amendment.source) for amendment in study.project.amendments)


def _notes(content: Sheet, plan: Plan) -> Iterator[Item]:
    for number, note in enumerate(content.notes, 1):
        yield Paragraph(note.text + (f" [{note.label}]" if note.label else ""), f"{number}.")
    yield from (Paragraph(text) for text in plan.notes)


def _legend(plan: Plan) -> Picture:
    group = legend_group(legend_kinds((plan.root,), plan.schedule), COLUMN_IN, 0.01, CAP_MIN_IN)
    items = tuple(item for item in group.items if not (isinstance(item, Text) and item.role == "heading"))
    scene = Scene(items, "Legend", "Symbols used", width_in=group.width, height_in=group.height + CAP_REVIEW_IN)
    return Picture(render_svg(scene), scene.width_in, "legend of the symbols used")


def _abbreviations(plan: Plan) -> Iterator[Item]:
    yield Paragraph("; ".join(f"{short}: {meaning}" for short, meaning in plan.abbreviations))


def drawing_sheet(scene: Scene) -> DrawingSheet:
    """A drawing; its count of sheets is taken out, since the set has a count of its own."""
    counts = [text for text in scene.of(Text) if _is_count(text)]
    kept = replace(scene, items=tuple(item for item in scene.items if item not in counts))
    place = Count(counts[0].x, counts[0].y, counts[0].cap_in) if counts else None
    return DrawingSheet(scene.sheet, "Single-line diagram", render_svg(kept), scene.description, scene.width_in, scene.height_in, place)


def _is_count(text: Text) -> bool:
    return text.role == "title" and text.anchor == "middle" and all(word in text.lines[0] for word in _COUNT_WORDS)


def _schedules(study: Study, content: Sheet) -> TextSheet:
    grids = (grid_of(without(conductor_table(study), _NOT_ON_PAPER)), content.schedule, *content.schedules)
    return TextSheet("E-602", "Conductor, equipment and panel schedules", "ansi-b", (Rows(1, in_lines(spread(shelves(grids, WIDE_IN), _WIDE_HIGH_IN, _HEADING_IN), WIDE_IN)),))


def _calculations(content: Sheet, paper: str) -> TextSheet:
    """The calculations of a set, whose first sheet has said what the system is; on 17 x 11 in in three columns, on letter paper in one."""
    if paper == "letter":
        found = flow(1, calculation_items(content, LETTER_IN), LETTER_IN, _LETTER_HIGH_IN)
    else:
        found = flow(3, calculation_items(content, THIRD_IN), THIRD_IN, _WIDE_HIGH_IN)
    return TextSheet("E-603", "Calculations", paper, (found,))


def calculation_sheet(content: Sheet) -> TextSheet:
    """The calculation sheet that stands alone, on letter paper."""
    items = (*head_items(content), listing(content.schedule, LETTER_IN), *calculation_items(content, LETTER_IN))
    return TextSheet("E-603", "Calculations", "letter", (flow(1, items, LETTER_IN, _LETTER_HIGH_IN),))


def _labels(content: Sheet, labels: tuple[Label, ...]) -> TextSheet:
    table: Item = listing(content.labels, WIDE_IN) if content.labels is not None and content.labels.rows else Paragraph("No labels.")
    drawn = [drawn_label(number, label) for number, label in enumerate(labels, 1)]
    small, *large = (Rows(columns, tuple(label for label in drawn if columns_of(label) == columns)) for columns in (3, 2, 1))
    parts = (Rows(1, in_lines((table,), WIDE_IN)), small, Together(tuple(rows for rows in large if rows.items)))
    return TextSheet("E-604", "Label schedule, labels at true size", "ansi-b", parts)
