"""Draws many more cases for the second computation than the test suite does: ``python -m tests.properties.long_run 5000``."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis.strategies import SearchStrategy

from tests.properties import agreement


def drawn_cases(strategy: SearchStrategy, compare: Callable[[Any], None], examples: int) -> None:
    """Hold ``examples`` cases against the second computation; the first difference is raised, its smallest case first."""
    many = settings(max_examples=examples, deadline=None, suppress_health_check=list(HealthCheck), database=None)

    @many
    @given(strategy)
    def run(drawn: Any) -> None:
        compare(drawn)

    run()
    print(f"{compare.__name__}: {examples} cases, no difference", flush=True)


def main(examples: int) -> None:
    """Run each comparison."""
    drawn_cases(agreement.questions().filter(agreement.is_answerable), agreement.circuits_agree, examples)
    drawn_cases(agreement.strings(), agreement.strings_agree, examples)
    drawn_cases(agreement.runs(), agreement.runs_agree, examples)
    drawn_cases(agreement.buses(), agreement.buses_agree, examples)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5000)
