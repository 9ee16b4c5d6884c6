"""A rule explained, as plain text, Markdown and JSON."""

from __future__ import annotations

from typing import Any

from linecalc.caution import CAUTION
from linecalc.explain.rule import Explanation, Place
from linecalc.explain.worked import Worked
from linecalc.report.wrapping import wrapped
from linecalc.report.wording import markdown

SCHEMA = "linecalc/rule/1"
NO_ARITHMETIC = "No arithmetic: it asks whether something is there, or how it is arranged."
INVENTED = "Worked line, with invented numbers"


def rule_text(found: Explanation) -> str:
    """Plain text, ending in a newline."""
    lines = [f"{found.rule}: {found.title}", "", *wrapped(found.asks, "  ", "  "), "", "Section"]
    for place in found.places:
        lines += wrapped(_place(place), f"  NEC {place.edition}  ", " " * 12)
    lines += wrapped(f"note: {found.note}", "  ", "    ") if found.note else []
    lines += ["", *_worked(found.worked)]
    lines += ["", *wrapped(f"Other checks under the same sections: {', '.join(found.beside)}")] if found.beside else []
    return "\n".join([*lines, "", *wrapped(CAUTION)]) + "\n"


def _place(place: Place) -> str:
    return place.section if place.section == place.evidence else f"{place.section} [{place.evidence}]"


def _worked(worked: Worked | None) -> list[str]:
    if worked is None:
        return [NO_ARITHMETIC]
    lines = []
    if worked.lines:
        lines += ["Formula", *(line for item in worked.lines for line in wrapped(f"{item.symbol} = {item.formula}", "  ", "    ")), ""]
    lines += [INVENTED, *(line for item in worked.lines for line in wrapped(item.text, "  ", "    "))]
    return [*lines, *(wrapped(f"{worked.comparison}: {_verdict(worked)}", "  ", "    ") if worked.comparison else [])]


def _verdict(worked: Worked) -> str:
    return "passes" if worked.holds else "does not pass"


def rule_markdown(found: Explanation) -> str:
    """Markdown, ending in a newline."""
    lines = [f"# {markdown(found.rule)}", "", f"{markdown(found.title)}.", "", markdown(found.asks), "", "| Edition | Section | Evidence |", "|:--|:--|:--|"]
    lines += [f"| NEC {place.edition} | {markdown(place.section)} | {markdown(place.evidence)} |" for place in found.places]
    lines += ["", f"Note: {markdown(found.note)}"] if found.note else []
    lines += ["", *_worked_markdown(found.worked)]
    lines += ["", f"Other checks under the same sections: {', '.join(markdown(name) for name in found.beside)}"] if found.beside else []
    return "\n".join([*lines, "", f"> {markdown(CAUTION)}"]) + "\n"


def _worked_markdown(worked: Worked | None) -> list[str]:
    if worked is None:
        return [NO_ARITHMETIC]
    lines = [f"- formula: {markdown(f'{item.symbol} = {item.formula}')}" for item in worked.lines]
    lines += ["", f"{INVENTED}:", "", *(f"- {markdown(item.text)}" for item in worked.lines)]
    return [*lines, *([f"- {markdown(worked.comparison)}: {_verdict(worked)}"] if worked.comparison else [])]


def rule_json(found: Explanation) -> dict[str, Any]:
    """The document ``linecalc/rule/1``."""
    return {
        "schema": SCHEMA,
        "rule": found.rule,
        "title": found.title,
        "asks": found.asks,
        "sections": [
            {"edition": place.edition, "section": place.section, "mark": place.mark or None, "evidence": place.evidence} for place in found.places
        ],
        "note": found.note or None,
        "worked": None if found.worked is None else _worked_json(found.worked),
        "beside": list(found.beside),
        "disclaimer": CAUTION,
    }


def _worked_json(worked: Worked) -> dict[str, Any]:
    lines = [
        {
            "symbol": item.symbol,
            "meaning": item.meaning,
            "formula": item.formula,
            "substitution": item.substitution,
            "expression": item.expression,
            "value": float(f"{item.value:.10g}"),
            "unit": item.unit,
        }
        for item in worked.lines
    ]
    return {"lines": lines, "comparison": worked.comparison or None, "passes": worked.holds}
