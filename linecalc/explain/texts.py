"""The texts of the rules: what each asks, in our own words, with small invented numbers for a worked line.

They are data (``tables/rules.toml``): a table for every rule key with its
suffix. ``kernel`` names a function of ``linecalc.calc``; ``numbers`` its
arguments, each ``[parameter, symbol, value, unit]``, ``[parameter, [[symbol,
value, unit], ...]]`` for several, or ``[parameter, value]`` for what is no
quantity. ``demand`` and ``limit`` are ``[symbol, value, unit]``.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from typing import Any

from linecalc.codebook.citations import citations
from linecalc.codebook.edition import EDITIONS
from linecalc.errors import InputError, Problem
from linecalc.project.wording import nearest, quoted, suggestion

Amount = tuple[str, float, str]


@dataclass(frozen=True, slots=True)
class RuleText:
    """What one rule asks, and the numbers of its worked line."""

    key: str
    asks: str
    kernel: str | None
    numbers: tuple[tuple[Any, ...], ...]
    demand: Amount | None
    limit: Amount | None
    sense: str


@lru_cache(maxsize=1)
def rule_texts() -> dict[str, RuleText]:
    """All texts by rule key."""
    raw = tomllib.loads((files("linecalc.tables") / "rules.toml").read_text("utf-8"))
    return {key: _text(key, entry) for key, entry in raw.items()}


def _text(key: str, entry: dict[str, Any]) -> RuleText:
    return RuleText(
        key,
        " ".join(entry["asks"].split()),
        entry.get("kernel"),
        tuple(tuple(number) for number in entry.get("numbers", ())),
        _amount(entry.get("demand")),
        _amount(entry.get("limit")),
        entry.get("sense", "<="),
    )


def _amount(raw: list[Any] | None) -> Amount | None:
    return None if raw is None else (str(raw[0]), float(raw[1]), str(raw[2]))


def rule_names() -> tuple[str, ...]:
    """The names that can be explained: rule keys, and the other keys of the citation map."""
    return tuple(dict.fromkeys([*rule_texts(), *citations(EDITIONS[-1])]))


def text_of(name: str) -> RuleText:
    """The text of a rule; of another key of the citation map, what the map says of it.

    Raises
    ------
    InputError
        No rule of that name; the nearest names, or the rules of a section, are given.
    """
    known = rule_texts()
    if name in known:
        return known[name]
    described = citations(EDITIONS[-1]).get(name)
    if described is not None:
        return RuleText(name, described.description, None, (), None, None, "<=")
    names = rule_names()
    close = _of_section(name) or nearest(name, names) or tuple(key for key in names if name.lower() in key)[:3]
    message = f"no rule {quoted(name)}; {suggestion(close, names)}"
    raise InputError([Problem(message, key="rule", found=name, expected=", ".join(names), nearest=close)])


def _of_section(name: str) -> tuple[str, ...]:
    """The keys whose section is the one named, such as ``690.7`` or ``690.7(A)``."""
    if not name[:1].isdigit():
        return ()
    wanted = name.replace(" ", "")
    found = [key for edition in reversed(EDITIONS) for key, cited in citations(edition).items() if wanted in _sections(cited.section)]
    found = found or [key for edition in reversed(EDITIONS) for key, cited in citations(edition).items() if cited.section.replace(" ", "").startswith(wanted)]
    return tuple(dict.fromkeys(found))[:6]


def _sections(text: str) -> tuple[str, ...]:
    return tuple(part.replace(" ", "") for part in text.replace(",", ";").split(";"))
