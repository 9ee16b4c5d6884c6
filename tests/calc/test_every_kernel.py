"""Laws that hold for every kernel, whatever it computes."""

from __future__ import annotations

import csv
import doctest
import inspect
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from linecalc.term import Rendered, Term, evaluate, named_terms, shortest
from linecalc.units import unit_text
from tests.calc.kernel_calls import CALLS, KERNELS, MODULES, as_terms, plain, terms_in

CITATIONS = Path(__file__).parents[2] / "tables" / "citations.csv"


def on_every_call(law: Callable[[str, dict], None]) -> Callable[[], None]:
    """One test that holds a law against every call of every kernel; a failure names the kernel."""

    def test() -> None:
        for name, calls in CALLS.items():
            for arguments in calls:
                try:
                    law(name, arguments)
                except Exception as error:
                    error.add_note(f"in {name}({arguments})")
                    raise

    test.__name__, test.__doc__ = law.__name__, law.__doc__
    return test


def called_with_terms(name: str, arguments: dict) -> object:
    return KERNELS[name](**{key: as_terms(value, key) for key, value in arguments.items()})


def printed_terms(name: str, arguments: dict) -> list[Term]:
    return [term for found in terms_in(called_with_terms(name, arguments)) for term in named_terms(found)]


def test_every_public_kernel_is_called_here() -> None:
    assert set(CALLS) == set(KERNELS)


def test_every_module_of_kernels_is_read_here() -> None:
    directory = Path(MODULES[0].__file__).parent
    assert {Path(module.__file__) for module in MODULES} == set(directory.glob("*.py")) - {directory / "__init__.py"}


@on_every_call
def test_floats_and_terms_give_the_same_value_to_the_last_bit(name: str, arguments: dict) -> None:
    assert plain(called_with_terms(name, arguments)) == plain(KERNELS[name](**arguments))


@on_every_call
def test_floats_give_no_term(name: str, arguments: dict) -> None:
    assert list(terms_in(KERNELS[name](**arguments))) == []


@on_every_call
def test_terms_stay_terms(name: str, arguments: dict) -> None:
    with_floats = plain(KERNELS[name](**arguments))
    if isinstance(with_floats, float):
        assert isinstance(called_with_terms(name, arguments), Term)


@on_every_call
def test_the_expression_evaluates_to_the_value(name: str, arguments: dict) -> None:
    for term in printed_terms(name, arguments):
        assert evaluate(Rendered(term).expression) == pytest.approx(term.value, rel=1e-8, abs=1e-12)


@on_every_call
def test_the_printed_substitution_evaluates_to_the_printed_result(name: str, arguments: dict) -> None:
    for term in printed_terms(name, arguments):
        line = Rendered(term)
        value = evaluate(without_units(line.substitution, term))
        assert any(shortest(value, digits) == line.result for digits in range(4, 13)), line.substitution


def without_units(substitution: str, term: Term) -> str:
    units = {unit_text(named.unit) for named in named_terms(term)} - {""}
    text = substitution
    for unit in sorted(units, key=len, reverse=True):
        text = text.replace(f" {unit}", "")
    return text.replace(" x ", " * ")


@on_every_call
def test_every_printed_line_says_symbol_unit_and_meaning(name: str, arguments: dict) -> None:
    for term in printed_terms(name, arguments):
        assert re.fullmatch(r"[A-Za-z][A-Za-z0-9_]*", term.symbol)
        assert term.meaning and not term.meaning.endswith(".")
        assert term.key


@on_every_call
def test_a_citation_passed_by_the_caller_reaches_the_result(name: str, arguments: dict) -> None:
    if "cite" in arguments:
        assert called_with_terms(name, arguments).cite == arguments["cite"]


@pytest.mark.parametrize("name", sorted(KERNELS))
def test_each_docstring_has_an_example_and_names_its_parameters(name: str) -> None:
    documented = inspect.getdoc(KERNELS[name]) or ""
    assert ">>> " in documented
    if "As `" not in documented and not name.startswith("compare."):
        for parameter in inspect.signature(KERNELS[name]).parameters:
            assert re.search(rf"\b{parameter}\b", documented.partition("Parameters")[2]), parameter


@pytest.mark.parametrize("name", sorted(KERNELS))
def test_each_citation_in_use_stands_in_the_docstring(name: str) -> None:
    documented = inspect.getdoc(KERNELS[name]) or ""
    own = {term.cite for arguments in CALLS[name] for term in terms_in(called_with_terms(name, arguments))} - {""}
    for key in own:
        assert f"`{key}`" in documented


@pytest.mark.parametrize("name", sorted(KERNELS))
def test_each_citation_key_is_a_row_of_the_citation_map(name: str) -> None:
    keys = citation_keys()
    cited = {term.cite for arguments in CALLS[name] for term in printed_terms(name, arguments)} - {""}
    assert cited <= keys
    references = (inspect.getdoc(KERNELS[name]) or "").partition("References")[2].partition("Examples")[0]
    mentioned = set(re.findall(r"`([a-z0-9_]+)`", references)) - {kernel.partition(".")[2] for kernel in KERNELS}
    assert mentioned <= keys


def citation_keys() -> set[str]:
    rows = [line for line in CITATIONS.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return {row["rule_key"] for row in csv.DictReader(rows)}


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rpartition(".")[2])
def test_the_examples_in_the_docstrings_are_true(module: object) -> None:
    failed, attempted = doctest.testmod(module)
    assert attempted > 0
    assert failed == 0


def test_kernels_carry_no_decorators() -> None:
    for kernel in KERNELS.values():
        assert not inspect.getsource(kernel).lstrip().startswith("@")
