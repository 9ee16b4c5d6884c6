"""Every rule key that the rules can emit, read from their source: keys of the citation map, with and without a suffix."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from linecalc.codebook.citations import citations

PACKAGE = Path(__file__).parents[2] / "linecalc"
SOURCES = (*sorted((PACKAGE / "rules").glob("*.py")), *sorted((PACKAGE / "sizing").glob("*.py")), PACKAGE / "calc" / "overcurrent.py")
CHECKING = re.compile(r"^(?:limit_check|not_checked|remark|Check)$")
KEY_FUNCTIONS = ("conductor_key", "device_key", "_note_key", "_rule_of")


def known(text: str) -> bool:
    """Whether a text is a key of the citation map, or one with a suffix."""
    return re.fullmatch(r"[a-z0-9_]+(\.[A-Za-z0-9_]+)?", text) is not None and text.split(".")[0] in citations("2023")


def texts_of(tree: ast.AST) -> set[str]:
    """The string constants of a syntax tree that are no docstrings."""
    documented = (ast.Module, ast.FunctionDef, ast.ClassDef)
    docstrings = {id(node.body[0].value) for node in ast.walk(tree) if isinstance(node, documented) and node.body and isinstance(node.body[0], ast.Expr)}
    return {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in docstrings}


def rule_arguments(tree: ast.AST) -> set[str]:
    """Key constants that stand as the rule of a check: the second argument of the functions that make one, the first of Check."""
    found: set[str] = set()
    for node in ast.walk(tree):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and CHECKING.match(node.func.id)):
            continue
        position = 0 if node.func.id == "Check" else 1
        if len(node.args) > position:
            found |= {text for text in texts_of(node.args[position]) if known(text)}
    return found


def suffixes(tree: ast.AST) -> set[str]:
    """Suffixes that are put behind a key in an f-string: ``.T1``."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr) and len(node.values) == 2 and isinstance(node.values[0], ast.FormattedValue):
            last = node.values[1]
            if isinstance(last, ast.Constant) and re.fullmatch(r"\.[A-Za-z][A-Za-z0-9_]*", str(last.value)):
                found.add(str(last.value))
    return found


def keys_in_source() -> set[str]:
    """All constants of the rules that are keys of the citation map."""
    found: set[str] = set()
    for path in sorted((PACKAGE / "rules").glob("*.py")):
        found |= {text for text in texts_of(ast.parse(path.read_text())) if known(text)}
    return found
