"""The whole path: Project to Network to Currents to Sized to Study.

A Study holds everything that reports, drawings and JSON read. Nothing in it is
changed afterwards.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from linecalc.caution import CAUTION as CAUTION
from linecalc.check import Check, Level, Step
from linecalc.codebook import Book, open_book
from linecalc.network.build import Network, build_network, natural
from linecalc.network.currents import Currents, compute_currents
from linecalc.network.records import Assumption
from linecalc.project.model import Project
from linecalc.rules import RULES
from linecalc.sizing import size
from linecalc.sizing.records import Sized
from linecalc.steps import steps_behind


@dataclass(frozen=True, slots=True)
class Study:
    """One project, computed and checked against one edition."""

    project: Project
    book: Book
    network: Network
    currents: Currents
    sized: Sized
    checks: tuple[Check, ...]
    steps: tuple[Step, ...]

    @property
    def checked_against(self) -> str:
        """The sentence that stands where other documents claim a verdict."""
        return f"checked against NEC {self.book.edition}, for review by the AHJ"

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """Everything that had to be assumed, in the order it was met."""
        return self.sized.assumptions

    def count(self, level: Level) -> int:
        """How many checks have that level."""
        return sum(check.level is level for check in self.checks)

    def of_subject(self, subject: str) -> tuple[Check, ...]:
        """The checks of one subject."""
        return tuple(check for check in self.checks if check.subject == subject)

    def steps_of(self, subject: str) -> tuple[Step, ...]:
        """The steps of one subject."""
        return tuple(step for step in self.steps if step.subject == subject)

    def _repr_html_(self) -> str:
        """What a notebook shows: verdicts, findings and the drawing."""
        from linecalc.report.notebook import study_html

        return study_html(self)

    def _repr_svg_(self) -> str | None:
        """The drawing alone, for what shows no HTML."""
        from linecalc.report.notebook import study_svg

        return study_svg(self)


def study(project: Project, edition: str | int | None = None) -> Study:
    """Compute and check a project, against its own edition or another one, ``"2020"`` or 2020.

    Raises
    ------
    InputError, RefusedError
        The project cannot be computed.
    """
    book = open_book(str(edition) if edition else project.project.code)
    sized, checks = verdicts(project, book)
    return Study(project, book, sized.network, sized.currents, sized, checks, steps_behind(book, checks))


def verdicts(project: Project, book: Book) -> tuple[Sized, tuple[Check, ...]]:
    """The sized network and its checks in order, without the steps behind them.

    Raises
    ------
    InputError, RefusedError
        The project cannot be computed.
    """
    network = build_network(project)
    sized = size(compute_currents(network, book))
    return sized, _in_order(network, (check for rule in RULES for check in rule(sized)))


def subjects_in_order(network: Network) -> tuple[str, ...]:
    """All subjects in the order of power flow: DC things, circuits, nodes towards the service, raceways."""
    order: list[str] = []
    for circuit in network.circuits:
        order.extend((circuit.down, circuit.tag))
    order.extend(tag for tag in network.nodes if tag not in order)
    order.extend(sorted(network.project.section, key=natural))
    order.append("system")
    return tuple(dict.fromkeys(order))


def _in_order(network: Network, checks: Iterable[Check]) -> tuple[Check, ...]:
    position = {tag: index for index, tag in enumerate(subjects_in_order(network))}
    last = len(position)
    return tuple(sorted(checks, key=lambda check: position.get(check.subject, last)))
