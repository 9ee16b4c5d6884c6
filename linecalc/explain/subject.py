"""Every step behind one circuit or device, in order, its inputs followed to their origin."""

from __future__ import annotations

from dataclasses import dataclass, replace

from linecalc.check import Check, Step
from linecalc.errors import InputError, Problem
from linecalc.project.model import TAGGED
from linecalc.project.wording import dotted, nearest, quoted, suggestion
from linecalc.report.blocks import BlockWriter
from linecalc.report.cells import is_cell, table_name
from linecalc.report.content import Block
from linecalc.report.inputs import Input, inputs_of_study
from linecalc.report.lines import LineWriter
from linecalc.report.origins import Origins
from linecalc.study import Study
from linecalc.term import Term


@dataclass(frozen=True, slots=True)
class Behind:
    """What stands behind one tag: its facts, steps and checks, and every input and table they rest on."""

    study: Study
    block: Block
    checks: tuple[Check, ...]
    steps: tuple[Step, ...]
    inputs: tuple[Input, ...]
    tables: tuple[str, ...]


def explain_subject(study: Study, tag: str) -> Behind:
    """What stands behind a tag of the project.

    Raises
    ------
    InputError
        No such tag; the nearest are given.
    """
    inputs = inputs_of_study(study)
    blocks = {block.tag: block for block in BlockWriter(study, inputs).blocks()}
    if tag in study.project.equipment and tag not in blocks:
        raise _equipment_only(study, tag)
    if tag not in blocks:
        close = nearest(tag, blocks)
        message = f"no tag {quoted(tag)} in the project; {suggestion(close, blocks)}"
        raise InputError([Problem(message, key="tag", found=tag, expected=", ".join(blocks), nearest=close)])
    checks = study.of_subject(tag)
    origins = Origins(study.steps, inputs)
    steps = _closure(study, tag, checks, origins)
    writer = LineWriter(study.book, study.steps, inputs)
    block = replace(blocks[tag], lines=tuple(writer.line(step) for step in steps))
    paths, tables = _origins_of(study, checks, steps, origins)
    own = [item.path for item in inputs if item.path.startswith(_own_tables(study, tag))]
    used = tuple(found for path in dict.fromkeys([*own, *paths]) if (found := inputs.get(path)) is not None)
    return Behind(study, block, checks, steps, used, tables)


def _equipment_only(study: Study, tag: str) -> InputError:
    """Equipment data stand behind the things that use them: name those."""
    users = tuple(node.tag for node in study.network.nodes.values() if tag in (getattr(node.item, "equipment", None), getattr(node.item, "module", None)))
    advice = f"explain what uses it: {', '.join(users)}" if users else "nothing in the house uses it"
    return InputError([Problem(f"{quoted(tag)} is equipment data; {advice}", key="tag", found=tag, nearest=users[:3])])


def _own_tables(study: Study, tag: str) -> tuple[str, ...]:
    """The tables of the project file that describe a tag, and for a circuit the sections of its path."""
    circuit = study.project.circuit.get(tag)
    sections = () if circuit is None else circuit.path
    tables = [dotted((table, tag)) for table in (*TAGGED, "circuit", "section") if tag in getattr(study.project, table)]
    return tuple(f"{table}." for table in (*tables, *(dotted(("section", name)) for name in sections))) or ("\0",)


def _closure(study: Study, tag: str, checks: tuple[Check, ...], origins: Origins) -> tuple[Step, ...]:
    """The steps of a tag and of its checks, and all steps that those use, in the order of the study."""
    by_id = {step.id: step for step in study.steps}
    waiting = [step.id for step in study.steps_of(tag)] + [step for check in checks for step in origins.steps_behind(check)]
    wanted: set[str] = set()
    while waiting:
        step_id = waiting.pop()
        if step_id in wanted or step_id not in by_id:
            continue
        wanted.add(step_id)
        step = by_id[step_id]
        waiting.extend(origins.step_id(term, step.subject) for term in step.inputs() if term.op)
    return tuple(step for step in study.steps if step.id in wanted)


def _origins_of(study: Study, checks: tuple[Check, ...], steps: tuple[Step, ...], origins: Origins) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The input paths and the tables that steps and checks rest on, in order of first use."""
    leaves: list[Term] = [term for step in steps for term in step.inputs() if not term.op]
    leaves += [term for check in checks for term in check.roots() if not term.op and term.origin]
    paths = dict.fromkeys(origins.of(term, "") for term in leaves if not is_cell(term.origin))
    tables = dict.fromkeys(study.book.table(table_name(term.origin)).number for term in leaves if is_cell(term.origin))
    return tuple(path for path in paths if path), tuple(tables)
