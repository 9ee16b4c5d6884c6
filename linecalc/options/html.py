"""The study of options as one self-contained HTML page with charts: no network, no script."""

from __future__ import annotations

from html import escape

from linecalc.options.charts import charge_chart, layout_drawing, pareto_chart, starts_chart
from linecalc.options.content import (
    COLUMNS,
    HOURS_HEAD,
    LOST_HEAD,
    PARTS_HEAD,
    POWER_HEAD,
    Content,
    hours_rows,
    lost_rows,
    parts_rows,
    power_rows,
    ranking_words,
    row_of,
    shown,
    verdict_line,
)
from linecalc.options.records import Result
from linecalc.options.text import Rows

_POLICY = "default-src 'none'; style-src 'unsafe-inline'"
_STYLE = """
body{font:15px/1.45 sans-serif;max-width:62rem;margin:0 auto;padding:1rem;color:#111;background:#fff}
table{border-collapse:collapse;margin:.5rem 0}th,td{border:1px solid #999;padding:.2rem .5rem;text-align:left;vertical-align:top}
.wide{overflow-x:auto}svg{max-width:100%;height:auto}figure{margin:1rem 0}figcaption{font-weight:bold}.caution{border-left:4px solid #111;padding-left:.6rem}
@media print{.wide{overflow:visible}table{font-size:9px}figure{break-inside:avoid}}
"""


def options_html(content: Content) -> str:
    """The whole page."""
    title = escape(f"{content.title}: units, storage modules, array")
    body = [
        f"<h1>{title}</h1>",
        f"<p>checked against {escape(content.edition)}, for review by the AHJ</p>",
        f'<p class="caution">{escape(content.caution)}</p>',
        f"<p><strong>{escape(verdict_line(content))}</strong></p><p>{escape(ranking_words(content))}</p>",
        "<h2>What each step buys</h2>",
        _list(content.answer.words),
        *_charts(content),
        "<h2>Candidates</h2>",
        _table(tuple(name.replace("_", " ") for name in COLUMNS), tuple(tuple(shown(row_of(content, found)[name]) for name in COLUMNS) for found in content.ordered)),
        *_detail(content),
        "<h2>Which assumption changes the first choice</h2>",
        _table(
            ("assumption", "moved to", "first choice then", ""),
            tuple((turn.what, turn.moved, turn.winner, ("undecided: within its stated range" if turn.decides else "changes it") if turn.changed else "") for turn in content.turns),
        ),
    ]
    for grown in content.growth:
        body += [f"<h2>Later: {escape(grown.later.name)} from {escape(grown.now.name)}</h2>", "<h3>To do now</h3>", _list(grown.do_now)]
        body += ["<h3>Otherwise, later</h3>", _list(grown.do_again)] if grown.do_again else []
        body += ["<h3>Cannot be added as planned</h3>", _list(grown.blocked)] if grown.blocked else []
    body += ["<h2>Assumed</h2>", _table(("input", "value", "reason"), tuple((found.path, found.value, found.reason) for found in content.assumptions))]
    head = f'<meta charset="utf-8">\n<meta name="viewport" content="width=device-width, initial-scale=1">\n<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
    return f'<!DOCTYPE html>\n<html lang="en">\n<head>\n{head}\n<title>{title}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n' + "\n".join(body) + "\n</body>\n</html>\n"


def _shown_result(content: Content) -> Result | None:
    return content.answer.winner or next(iter(content.answer.unsettled), None) or next((found for found in content.answered.results if found.hours), None)


def _charts(content: Content) -> list[str]:
    result = _shown_result(content)
    found = [_figure("Every candidate: filled on the Pareto front of cost (less the value of its energy), hours, lost energy and space; grey where it fails", pareto_chart(content))] if pareto_chart(content) else []
    if result is None or not result.hours:
        return found
    name = result.candidate.name
    found += [_figure(f"{name}: stored energy over the outage, aged storage", charge_chart(content, result)), _figure(f"{name}: hours carried by starting hour", starts_chart(content, result))]
    places = content.answered.context.options.place
    if result.layout is not None and result.layout.boxes:
        found.append(_figure(f"{name}: layout", layout_drawing(result.layout, places)))
    return found


def _detail(content: Content) -> list[str]:
    result = _shown_result(content)
    if result is None:
        return []
    name = escape(result.candidate.name)
    return [
        f"<h2>{name}</h2>", "<h3>Hours carried</h3>", _table(HOURS_HEAD, hours_rows(content, result)), "<h3>Peak of the load</h3>", _table(POWER_HEAD, power_rows(result)),
        "<h3>Energy of the array</h3>", _table(LOST_HEAD, lost_rows(result)), "<h3>Parts</h3>", _table(PARTS_HEAD, parts_rows(content, result)),
    ]


def _figure(caption: str, svg: str) -> str:
    return f"<figure><figcaption>{escape(caption)}</figcaption>{svg}</figure>"


def _list(lines: tuple[str, ...]) -> str:
    return "<ul>" + "".join(f"<li>{escape(line)}</li>" for line in lines) + "</ul>"


def _table(head: tuple[str, ...], rows: Rows) -> str:
    top = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in head)
    body = "".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in rows)
    return f'<div class="wide"><table><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table></div>'
