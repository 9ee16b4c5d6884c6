"""The commented study in the starter project works once its marks are taken away."""

from __future__ import annotations

import linecalc
from linecalc.cli.new import starter_text
from linecalc.options.build import build
from linecalc.options.context import context_of
from linecalc.options.run import results_of


def uncommented() -> str:
    """The starter with its study of size."""
    return "\n".join(line.removeprefix("#: ") if line.startswith("#: ") else line for line in starter_text().splitlines())


def test_the_commented_study_reads_and_tries_one_and_two_units():
    context = context_of(linecalc.read_text(uncommented()), ".")
    assert [candidate.name for candidate in context.candidates] == ["1u0m-as-drawn", "2u0m-as-drawn"]


def test_its_first_candidate_is_settled_but_for_the_size_of_the_box():
    """The starter's unit states no width, so that the study asks for it."""
    context = context_of(linecalc.read_text(uncommented()), ".")
    built = build(context, context.candidates[0])
    assert not built.reasons
    (found,) = results_of(context, [built], context.settings, context.profile)
    assert found.least_hours("none") > 0.0
    assert all("equipment.unit-96" in reason.message for reason in found.unsettled if reason.rule == "placement")
