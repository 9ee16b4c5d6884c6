"""The study of options as one self-contained HTML page with charts: no network, no script."""

from __future__ import annotations

from html import escape

from linecalc.options.charts import charge_chart, pareto_chart, starts_chart
from linecalc.options.content import (
    FIGURES_HEAD,
    GROWTH_HEAD,
    HOURS_HEAD,
    LOST_HEAD,
    PARTS_HEAD,
    POWER_HEAD,
    RANGES_NOTE,
    STEP_HEAD,
    TURN_HEAD,
    Content,
    blocked_line,
    candidate_rows,
    candidates_head,
    figures_rows,
    growth_rows,
    growth_title,
    hours_rows,
    lost_rows,
    parts_rows,
    power_rows,
    ranking_words,
    step_title,
    turn_rows,
    verdict_line,
)
from linecalc.options.records import Result
from linecalc.options.text import Rows
from linecalc.options.wall import layout_drawing

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"
_STYLE = """
body{font:16px/1.45 sans-serif;max-width:76rem;margin:0 auto;padding:1rem;color:#111;background:#fff}
h1{font-size:1.5rem}h2{font-size:1.2rem;margin:1.8rem 0 .5rem}h3{font-size:1rem;margin:1rem 0 .3rem}
p,li{max-width:60rem;overflow-wrap:break-word}li{margin:.4rem 0}
table{border-collapse:collapse;margin:.3rem 0;font-size:.875rem}th,td{border:1px solid #999;padding:.2rem .5rem;text-align:left;vertical-align:top}
thead th{background:#eee}.wide{overflow-x:auto}td.long{min-width:15rem}td.mid{min-width:8rem}td.short{white-space:nowrap}.charts{display:grid;grid-template-columns:repeat(auto-fit,minmax(min(100%,26rem),1fr));gap:1rem}
svg{width:100%;height:auto;display:block}figure{margin:0}figcaption{font-weight:bold;margin-bottom:.3rem}
.answer{font-size:1.1rem;font-weight:bold}.caution{border-left:4px solid #111;padding-left:.6rem}
@media print{.wide{overflow:visible}table{font-size:8px}figure{break-inside:avoid}}
"""


def options_html(content: Content) -> str:
    """The whole page."""
    title = escape(f"{content.title}: units, storage modules, array")
    body = [
        f"<h1>{title}</h1>",
        f"<p>checked against {escape(content.edition)}, for review by the AHJ</p>",
        f'<p class="caution">{escape(content.caution)}</p>',
        f'<p class="answer">{escape(verdict_line(content))}</p><p>{escape(ranking_words(content))}</p>',
        "<h2>What each step buys</h2>",
        _list(content.words),
        *_charts(content),
        "<h2>Candidates</h2>",
        _table(candidates_head(content), candidate_rows(content)),
        *_detail(content),
    ]
    for step in content.unit_steps:
        body += [f"<h2>AC side: {escape(step_title(step))}</h2>", _table(STEP_HEAD, step.rows)]
    body += ["<h2>Which assumption changes the first choice</h2>", f"<p>{escape(RANGES_NOTE)}</p>", _table(TURN_HEAD, turn_rows(content))]
    for grown in content.growth:
        body += [f"<h2>{escape(growth_title(grown))}</h2>"]
        body += [f"<p>{escape(blocked_line(grown))}</p>"] if grown.blocked else []
        body += [_table(GROWTH_HEAD, growth_rows(grown))] if grown.points else []
    body += ["<h2>Assumed</h2>", _table(("input", "value", "reason"), tuple((found.path, found.value, found.reason) for found in content.assumptions))]
    head = f'<meta charset="utf-8">\n<meta name="viewport" content="width=device-width, initial-scale=1">\n<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
    return f'<!DOCTYPE html>\n<html lang="en">\n<head>\n{head}\n<title>{title}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n' + "\n".join(body) + "\n</body>\n</html>\n"


def _charts(content: Content) -> list[str]:
    result = content.shown_result
    pareto = pareto_chart(content)
    found = [_figure("Every candidate: cost and hours", pareto)] if pareto else []
    if result is not None and result.hours:
        name = result.candidate.name
        found += [_figure(f"{name}: stored energy over the outage, aged storage", charge_chart(content, result)), _figure(f"{name}: hours carried by starting hour", starts_chart(content, result))]
        if result.layout is not None and result.layout.boxes:
            found.append(_figure(f"{name}: where it stands", layout_drawing(result.layout, content.answered.context.options.place)))
    return ["<h2>Charts</h2>", '<div class="charts">', *found, "</div>", f"<p>{_FRONT}</p>" if pareto else ""] if found else []


_FRONT = "Pareto front: of cost less the value of the energy used, hours, lost energy and space, none of these candidates is beaten in one without being better in another."


def _detail(content: Content) -> list[str]:
    result: Result | None = content.shown_result
    if result is None:
        return []
    return [
        f"<h2>{escape(result.candidate.name)}</h2>", "<h3>Hours carried</h3>", _table(HOURS_HEAD, hours_rows(content, result)), "<h3>Peak of the load</h3>", _table(POWER_HEAD, power_rows(result)),
        "<h3>Energy of the array</h3>", _table(LOST_HEAD, lost_rows(result)), "<h3>Parts</h3>", _table(PARTS_HEAD, parts_rows(content, result)),
        "<h3>How its figures come about</h3>", _table(FIGURES_HEAD, figures_rows(content, result)),
    ]


def _figure(caption: str, svg: str) -> str:
    return f"<figure><figcaption>{escape(caption)}</figcaption>{svg}</figure>"


def _list(lines: tuple[str, ...]) -> str:
    return "<ul>" + "".join(f"<li>{escape(line)}</li>" for line in lines) + "</ul>"


def _table(head: tuple[str, ...], rows: Rows) -> str:
    top = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in head)
    body = "".join("<tr>" + "".join(f"<td{_wide(cell)}>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
    return f'<div class="wide"><table><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table></div>'


def _wide(cell: str) -> str:
    """Short cells stay on one line, long ones get room on a narrow screen."""
    return ' class="long"' if len(cell) > 40 else ' class="short"' if len(cell) <= 16 else ' class="mid"'
