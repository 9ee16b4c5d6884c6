"""From checks to steps: every named term behind a check, once, under a semantic id."""

from __future__ import annotations

from linecalc.check import Check, Step
from linecalc.codebook import Book
from linecalc.term import owned_terms


def steps_behind(book: Book, checks: tuple[Check, ...]) -> tuple[Step, ...]:
    """The steps behind all checks, each term once, arguments before results.

    A term labelled by the stage that made it keeps its id (``C4.T2.export``);
    others are named after the nearest labelled result that they are part of,
    or after the subject of the first check that shows them.
    """
    found: dict[str, Step] = {}
    met: set[int] = set()
    for check in checks:
        for root in check.roots():
            for term, owner in owned_terms(root, check.subject, met):
                wanted = term.id or f"{owner}.{term.key}"
                step_id = _free_id(wanted, term.value, found)
                if step_id not in found:
                    citation = book.cite(term.cite).text if term.cite else ""
                    found[step_id] = Step(step_id, owner, term, citation)
    return tuple(found.values())


def _free_id(wanted: str, value: float, found: dict[str, Step]) -> str:
    """``wanted``, or the first ``wanted~2`` and so on whose step has another value."""
    number, step_id = 1, wanted
    while step_id in found and found[step_id].term.value != value:
        number += 1
        step_id = f"{wanted}~{number}"
    return step_id
