"""Arithmetic that remembers itself.

A :class:`Term` is a number that knows how it was made. Kernels are ordinary
arithmetic; given floats they return floats, given Terms they return Terms with
the same value, from which formula, substitution and origin are rendered, and
only when they are printed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Union

_PRECEDENCE = {"+": 1, "-": 1, "*": 2, "/": 2, "neg": 3}
_ATOM = 9
_MOST_DIGITS = 12


class Term:
    """A value with its unit, its name and the arithmetic that produced it.

    ``op`` is one of ``+ - * / neg max min sqrt``, ``=`` (a renamed term), or
    empty for an input or a constant. A term with a ``symbol`` is *named*: it
    prints as one line of a calculation. ``origin`` tells where an input came
    from: an input path or ``table:NAME/row/column``. ``id`` is the step id once
    a rule has labelled the term; ``key`` the part of it below the subject.
    """

    __slots__ = ("value", "unit", "op", "args", "symbol", "meaning", "key", "cite", "origin", "id")

    def __init__(
        self,
        value: float,
        unit: str = "",
        op: str = "",
        args: tuple[Number, ...] = (),
        symbol: str = "",
        meaning: str = "",
        key: str = "",
        cite: str = "",
        origin: str = "",
        id: str = "",
    ):
        self.value = value
        self.unit = unit
        self.op = op
        self.args = args
        self.symbol = symbol
        self.meaning = meaning
        self.key = key
        self.cite = cite
        self.origin = origin
        self.id = id

    def __repr__(self) -> str:
        return f"Term({self.symbol or '?'} = {self.value!r} {self.unit})"

    def __float__(self) -> float:
        return float(self.value)

    def __add__(self, other: Number) -> Term:
        if isinstance(other, float) and other == 0.0:
            return self
        return Term(self.value + value_of(other), op="+", args=(self, other))

    def __radd__(self, other: float) -> Term:
        if other == 0.0:
            return self
        return Term(other + self.value, op="+", args=(other, self))

    def __sub__(self, other: Number) -> Term:
        return Term(self.value - value_of(other), op="-", args=(self, other))

    def __rsub__(self, other: float) -> Term:
        return Term(other - self.value, op="-", args=(other, self))

    def __mul__(self, other: Number) -> Term:
        return Term(self.value * value_of(other), op="*", args=(self, other))

    def __rmul__(self, other: float) -> Term:
        return Term(other * self.value, op="*", args=(other, self))

    def __truediv__(self, other: Number) -> Term:
        return Term(self.value / value_of(other), op="/", args=(self, other))

    def __rtruediv__(self, other: float) -> Term:
        return Term(other / self.value, op="/", args=(other, self))

    def __neg__(self) -> Term:
        return Term(-self.value, op="neg", args=(self,))

    def __lt__(self, other: Number) -> bool:
        return self.value < value_of(other)

    def __le__(self, other: Number) -> bool:
        return self.value <= value_of(other)

    def __gt__(self, other: Number) -> bool:
        return self.value > value_of(other)

    def __ge__(self, other: Number) -> bool:
        return self.value >= value_of(other)


Number = Union[float, Term]


def value_of(number: Number) -> float:
    """The plain float behind a float or a Term."""
    return number.value if isinstance(number, Term) else number


def given(value: float, unit: str, symbol: str, origin: str, meaning: str = "") -> Term:
    """An input: a value read from the project file, equipment data or a table."""
    return Term(value, unit, symbol=symbol, meaning=meaning, origin=origin)


def named(number: Number, symbol: str, unit: str, meaning: str, cite: str = "", key: str = "") -> Number:
    """Give a result its symbol, unit, meaning and citation key; floats pass through.

    Kernels call this on what they return, so that the printed line and the
    computed value come from the same expression.
    """
    if not isinstance(number, Term):
        return number
    op, args = (number.op, number.args) if number.op and not number.symbol else ("=", (number,))
    return Term(number.value, unit, op, args, symbol, meaning, key or symbol, cite)


def label(number: Number, step_id: str, symbol: str = "") -> Number:
    """The same term under a step id such as ``C4.T2``, and another symbol if given; floats pass through."""
    if not isinstance(number, Term) or not number.op:
        return number
    return Term(
        number.value,
        number.unit,
        number.op,
        number.args,
        symbol or number.symbol,
        number.meaning,
        number.key,
        number.cite,
        number.origin,
        step_id,
    )


def largest(*numbers: Number) -> Number:
    """The largest of floats or Terms; remembers all of them. A single one is itself."""
    if len(numbers) == 1:
        return numbers[0]
    if any(isinstance(number, Term) for number in numbers):
        return Term(max(value_of(number) for number in numbers), op="max", args=numbers)
    return max(numbers)


def smallest(*numbers: Number) -> Number:
    """The smallest of floats or Terms; remembers all of them. A single one is itself."""
    if len(numbers) == 1:
        return numbers[0]
    if any(isinstance(number, Term) for number in numbers):
        return Term(min(value_of(number) for number in numbers), op="min", args=numbers)
    return min(numbers)


def sqrt(number: Number) -> Number:
    """The square root of a float or a Term."""
    if isinstance(number, Term):
        return Term(math.sqrt(number.value), op="sqrt", args=(number,))
    return math.sqrt(number)


def total(numbers: list[Number] | tuple[Number, ...]) -> Number:
    """The sum of floats or Terms, left to right; 0.0 for none."""
    if not numbers:
        return 0.0
    result = numbers[0]
    for number in numbers[1:]:
        result = result + number
    return result


def named_terms(root: Number) -> Iterator[Term]:
    """Every named, computed term below and including ``root``, arguments first, each once."""
    return (term for term, _ in owned_terms(root))


def owned_terms(root: Number, owner: str = "", met: set[int] | None = None) -> Iterator[tuple[Term, str]]:
    """The terms of :func:`named_terms`, each with its owner.

    The owner is the subject of the nearest labelled term on the way down from
    ``root``, its own label included; ``owner`` where there is none. Terms in
    ``met`` (by identity) are left out with all below them, and those found are
    added to it.
    """
    seen = set() if met is None else met
    stack: list[tuple[Term, str, bool]] = [(root, owner, False)] if isinstance(root, Term) and root.op else []
    while stack:
        term, own, expanded = stack.pop()
        if expanded:
            yield term, own
            continue
        if id(term) in seen:
            continue
        seen.add(id(term))
        own = term.id.split(".")[0] if term.id else own
        if term.symbol:
            stack.append((term, own, True))
        for arg in reversed(term.args):
            if isinstance(arg, Term) and arg.op:
                stack.append((arg, own, False))


def inputs_of(term: Term) -> list[Term]:
    """The named terms and inputs that the printed line of ``term`` refers to, in order, each once."""
    found: list[Term] = []

    def visit(argument: Number) -> None:
        if not isinstance(argument, Term):
            return
        if argument.symbol or not argument.op:
            if all(argument is not known for known in found):
                found.append(argument)
            return
        for inner in argument.args:
            visit(inner)

    for argument in term.args:
        visit(argument)
    return found


class Rendered:
    """The printed line of one term: ``symbol = formula = substitution = result``.

    Inputs are printed with the fewest digits for which the substitution,
    evaluated as printed, gives the printed result.
    """

    __slots__ = ("formula", "substitution", "expression", "result", "term")

    def __init__(self, term: Term, digits: int = 4):
        self.term = term
        self.formula = _render(term, lambda leaf: leaf.symbol or shortest(leaf.value, _MOST_DIGITS), top=True)
        self.expression = _render(term, lambda leaf: exact(leaf.value), top=True, plain=True)
        self.result, shown = _true_digits(term, digits)
        self.substitution = _render(
            term, lambda leaf: _with_unit(shortest(leaf.value, shown), leaf.unit), top=True
        )


def _true_digits(term: Term, digits: int) -> tuple[str, int]:
    """The result as text and the input digits for which the printed line is true."""
    for result_digits in range(digits, _MOST_DIGITS + 1):
        result = shortest(term.value, result_digits)
        for shown in range(result_digits, _MOST_DIGITS + 1):
            text = _render(term, lambda leaf, n=shown: shortest(leaf.value, n), top=True, plain=True)
            if shortest(evaluate(text), result_digits) == result:
                return result, shown
    return exact(term.value), _MOST_DIGITS


def shortest(value: float, digits: int) -> str:
    """``value`` to ``digits`` significant digits, whole numbers in full, no trailing zeros."""
    if value == int(value) and abs(value) < 1e9:
        return str(int(value))
    text = f"{value:.{digits}g}"
    if "e" not in text:
        return text
    text = f"{value:.{max(0, digits - 1 - math.floor(math.log10(abs(value))))}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def exact(value: float) -> str:
    """``value`` to ten significant digits, as JSON carries it."""
    return repr(float(f"{value:.10g}")) if value != int(value) or abs(value) >= 1e15 else str(int(value))


def _with_unit(number: str, unit: str) -> str:
    from linecalc.units import unit_text

    return f"{number} {unit_text(unit)}" if unit else number


def _render(term: Term, leaf, top: bool = False, plain: bool = False) -> str:
    return _text(term, leaf, plain, top)[0]


def _text(number: Number, leaf, plain: bool, top: bool) -> tuple[str, int]:
    """Text and precedence of one node; ``leaf`` prints inputs and named terms."""
    if not isinstance(number, Term):
        constant = exact(number) if plain else shortest(number, _MOST_DIGITS)
        return constant, 3 if number < 0 else _ATOM
    if not number.op or (number.symbol and not top):
        printed = leaf(number)
        return printed, 3 if printed.startswith("-") else _ATOM
    parts = [_text(arg, leaf, plain, False) for arg in number.args]
    if number.op == "=":
        return parts[0]
    if number.op in ("max", "min", "sqrt"):
        return f"{number.op}({', '.join(part for part, _ in parts)})", _ATOM
    own = _PRECEDENCE[number.op]
    if number.op == "neg":
        return f"-{_wrapped(parts[0], own + 1)}", own
    sign = {"*": "*" if plain else "x"}.get(number.op, number.op)
    right = own + 1 if number.op in ("-", "/") or parts[1][1] == 3 else own
    return f"{_wrapped(parts[0], own)} {sign} {_wrapped(parts[1], right)}", own


def _wrapped(part: tuple[str, int], least: int) -> str:
    text, precedence = part
    return text if precedence >= least and not (precedence == 3 and least > 1) else f"({text})"


_NAMES = {"max": max, "min": min, "sqrt": math.sqrt}


def evaluate(expression: str) -> float:
    """The value of a plain expression over numbers, ``+ - * /``, max, min and sqrt.

    Raises
    ------
    ValueError
        The text holds anything else.
    """
    import ast

    def walk(node: ast.AST) -> float:
        match node:
            case ast.Expression(body=body):
                return walk(body)
            case ast.Constant(value=int() | float() as value) if not isinstance(value, bool):
                return float(value)
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return -walk(operand)
            case ast.BinOp(left=left, op=ast.Add(), right=right):
                return walk(left) + walk(right)
            case ast.BinOp(left=left, op=ast.Sub(), right=right):
                return walk(left) - walk(right)
            case ast.BinOp(left=left, op=ast.Mult(), right=right):
                return walk(left) * walk(right)
            case ast.BinOp(left=left, op=ast.Div(), right=right):
                return walk(left) / walk(right)
            case ast.Call(func=ast.Name(id=name), args=args, keywords=[]) if name in _NAMES:
                return float(_NAMES[name](*[walk(arg) for arg in args]))
        raise ValueError(f"not plain arithmetic: {expression!r}")

    return walk(ast.parse(expression, mode="eval"))
