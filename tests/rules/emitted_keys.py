"""Every rule key that the rules can emit, read from their source: keys of the citation map, with and without a suffix."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from linecalc.codebook.citations import citations
from linecalc.network.dwelling_records import METHOD_CITE

PACKAGE = Path(__file__).parents[2] / "linecalc"
CONDUCTOR_FUNCTIONS = ("conductor_key", "conductor_rule")
DEVICE_FUNCTIONS = ("device_key", "device_rule")
WITHOUT_LOADS = ("pv_conductor", "ess_conductor")


def known(text: str) -> bool:
    """Whether a text is a key of the citation map, or one with a suffix."""
    return re.fullmatch(r"[a-z0-9_]+(\.[A-Za-z0-9_]+)?", text) is not None and text.split(".")[0] in citations("2023")


def texts_of(tree: ast.AST) -> set[str]:
    """The string constants of a syntax tree that are no docstrings."""
    documented = (ast.Module, ast.FunctionDef, ast.ClassDef)
    docstrings = {id(node.body[0].value) for node in ast.walk(tree) if isinstance(node, documented) and node.body and isinstance(node.body[0], ast.Expr)}
    return {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings}


def constants_of(tree: ast.Module) -> dict[str, str]:
    """The text constants that a module names, such as ``RULE``."""
    pairs = ((node.targets[0], node.value) for node in tree.body if isinstance(node, ast.Assign))
    return {name.id: value.value for name, value in pairs if isinstance(name, ast.Name) and isinstance(value, ast.Constant) and isinstance(value.value, str)}


def returned_keys(functions: tuple[str, ...]) -> set[str]:
    """The keys that functions choose which name the article of a circuit's conductors or device."""
    found: set[str] = set()
    for path in sorted((PACKAGE / "sizing").glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.FunctionDef) and node.name in functions:
                found |= {text for text in texts_of(node) if known(text)}
    return found


def joined(tree: ast.Module) -> Iterator[tuple[ast.expr, str | None]]:
    """Keys put together from a value and a suffix: ``f"{key}.T1"``, or ``f"{RULE}.{limit.key}"`` with an open suffix."""
    for node in ast.walk(tree):
        if not isinstance(node, ast.JoinedStr) or not node.values or not isinstance(node.values[0], ast.FormattedValue):
            continue
        rest = node.values[1:]
        if len(rest) == 1 and isinstance(rest[0], ast.Constant) and re.fullmatch(r"\.[A-Za-z][A-Za-z0-9_]*", str(rest[0].value)):
            yield node.values[0].value, str(rest[0].value)
        elif len(rest) == 2 and isinstance(rest[0], ast.Constant) and rest[0].value == ".":
            yield node.values[0].value, None


def keys_of_module(tree: ast.Module) -> set[str]:
    """All keys of one module of rules."""
    found = {text for text in texts_of(tree) if known(text)}
    constants = constants_of(tree)
    limits = {call.args[0].value for call in ast.walk(tree) if isinstance(call, ast.Call) and getattr(call.func, "id", "") == "_Limit" and isinstance(call.args[0], ast.Constant)}
    for base, suffix in joined(tree):
        suffixes = [suffix] if suffix is not None else [f".{key}" for key in limits]
        bases: set[str] = set()
        if isinstance(base, ast.Name):
            bases = {constants[base.id]} & set(filter(known, constants.values())) if base.id in constants else set()
        elif isinstance(base, ast.Call) and getattr(base.func, "id", "") in CONDUCTOR_FUNCTIONS:
            bases = returned_keys(CONDUCTOR_FUNCTIONS) - set(WITHOUT_LOADS if suffix == ".load" else ())
        elif isinstance(base, ast.Subscript) and getattr(base.value, "id", "") == "METHOD_CITE":
            bases = set(METHOD_CITE.values())
        found |= {f"{key}{one}" for key in bases for one in suffixes}
    return found


def keys_in_source() -> set[str]:
    """All keys that the rules can emit."""
    found = returned_keys(DEVICE_FUNCTIONS)
    for path in sorted((PACKAGE / "rules").glob("*.py")):
        found |= keys_of_module(ast.parse(path.read_text()))
    return found
