"""The study of options as JSON: schema ``linecalc/options/1``."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from linecalc.options.content import Content, row_of, verdict_counts, verdict_line
from linecalc.options.figures import figures_of
from linecalc.options.records import Result

_DIGITS = 10


def options_document(content: Content) -> dict[str, Any]:
    """Everything found, ten significant digits, ``null`` where a figure is not known."""
    winner = content.answer.winner
    return _rounded(
        {
            "schema": "linecalc/options/1",
            "edition": content.edition.removeprefix("NEC "),
            "project": {"title": content.title},
            "summary": verdict_counts(content),
            "answer": verdict_line(content),
            "winner": winner.candidate.name if winner is not None else None,
            "decided": not content.undecided,
            "pareto": [found.candidate.name for found in content.answer.front],
            "words": list(content.words),
            "candidates": [_candidate(content, found) for found in content.answered.results],
            "sensitivity": [asdict(turn) for turn in content.turns],
            "ac_side": [{"fewer": step.fewer, "more": step.more, "units": step.units, "rows": [{"where": where, "before": before, "after": after} for where, before, after in step.rows]} for step in content.unit_steps],
            "later": [
                {"now": grown.now.name, "later": grown.later.name, "points": [asdict(point) for point in grown.points], "blocked": grown.blocked, "possible": grown.possible}
                for grown in content.growth
            ],
            "assumptions": [asdict(found) for found in content.assumptions],
            "disclaimer": content.caution,
        }
    )


def options_json(content: Content) -> str:
    """The document as text."""
    return json.dumps(options_document(content), indent=2, ensure_ascii=False) + "\n"


def _candidate(content: Content, result: Result) -> dict[str, Any]:
    return {
        **row_of(content, result),
        "strings": list(result.candidate.array.strings),
        "modules_by_unit": list(result.candidate.modules),
        "reasons": [asdict(reason) for reason in result.reasons],
        "unsettled": [asdict(reason) for reason in result.unsettled],
        "power": [asdict(found) for found in result.power],
        "hours": [asdict(found) for found in result.hours],
        "lost": [{**asdict(found), "clipped_percent": found.clipped_percent} for found in result.lost],
        "recharge": [{"day": label, "share": share} for label, share in result.recharge_share],
        "layout": [asdict(box) for box in result.layout.boxes] if result.layout is not None else None,
        "working_space": [asdict(space) for space in result.layout.working] if result.layout is not None else [],
        "harness_ways_ft": dict(result.layout.ways_ft) if result.layout is not None else {},
        "figures": [asdict(found) for found in figures_of(content.answered.context, result)],
        "parts": [asdict(part) for part in result.bill.parts],
        "circuits": [asdict(found) for found in result.electrical.circuits] if result.electrical is not None else [],
        "buses": [asdict(found) for found in result.electrical.buses] if result.electrical is not None else [],
        "raceways": [asdict(found) for found in result.electrical.raceways] if result.electrical is not None else [],
        "storage_by_place": [asdict(found) for found in result.electrical.places] if result.electrical is not None else [],
    }


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return float(f"{value:.{_DIGITS}g}")
    if isinstance(value, dict):
        return {key: _rounded(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_rounded(inner) for inner in value]
    return value
