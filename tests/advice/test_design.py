"""The design that is searched is the one that was studied."""

import pytest

from linecalc.advice.design import as_designed
from linecalc.study import study
from tests.advice.studies import example
from tests.houses import studied


def said(found):
    return sorted((check.rule, check.subject, check.level.value, check.message) for check in found.checks)


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
@pytest.mark.parametrize("name", ["a", "b", "c", "d", "missing"])
def test_writing_in_what_was_chosen_changes_no_verdict(name, edition):
    """Sizes that are given are checked where chosen ones need not be: those checks come on top, and pass."""
    found = study(example(name).project, edition)
    before, after = said(found), said(study(as_designed(found), edition))
    added = [check for check in after if check not in before]
    assert [check for check in before if check not in after] == []
    assert {level for _, _, level, _ in added} <= {"pass"}


def test_everything_that_was_chosen_is_written_in():
    designed = study(as_designed(example("b")))
    assert all(not circuit.selected for circuit in designed.sized.circuits)
    assert all(not raceway.selected for raceway in designed.sized.raceways)


def test_what_was_given_stays_as_written():
    assert as_designed(example("d")).circuit["C3"].egc == example("d").project.circuit["C3"].egc


def test_the_design_of_a_design_is_itself():
    once = as_designed(studied())
    assert as_designed(study(once)) == once
