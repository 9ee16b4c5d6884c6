"""The single-line drawing inside the HTML sheet, a link laid over every tag."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

from linecalc.diagram import render_svg
from linecalc.diagram.scene import Box, Scene, subject_boxes
from linecalc.report.html_parts import block_id, drawing_id

_XML_HEAD = re.compile(r"^\s*<\?xml[^>]*\?>\s*")
_IDS = re.compile(r'\b(id|aria-labelledby)="([^"]*)"')
_TAG = re.compile(r"<[^>]*>")
_PAD_IN = 0.03


@dataclass(frozen=True, slots=True)
class Drawing:
    """The drawing as HTML, and the tags that have a link in it."""

    html: str
    tags: frozenset[str]


def drawing_html(scenes: Iterable[Scene], titles: dict[str, str]) -> Drawing:
    """The sheets of a drawing as figures.

    Parameters
    ----------
    titles : what each tag is called; only these tags get a link.
    """
    figures: list[str] = []
    tags: set[str] = set()
    for number, scene in enumerate(scenes, 1):
        boxes = {tag: box for tag, box in subject_boxes(scene).items() if tag in titles and tag not in tags}
        tags |= set(boxes)
        links = "\n".join(_link(tag, box, scene, titles[tag]) for tag, box in boxes.items())
        figures.append(_figure(scene, number, links))
    return Drawing(_section("drawing", "\n".join(figures)), frozenset(tags))


def no_drawing(reason: str) -> Drawing:
    """What stands in the drawing's place where there is none."""
    return Drawing(_section("no-drawing", f"<p>Not drawn: {escape(reason)}.</p>"), frozenset())


def _section(kind: str, body: str) -> str:
    return f'<section class="{kind}" aria-labelledby="drawing">\n<h2 id="drawing">Single-line diagram</h2>\n{body}\n</section>'


def _figure(scene: Scene, number: int, links: str) -> str:
    svg = _XML_HEAD.sub("", render_svg(scene)).strip()
    svg = _TAG.sub(lambda tag: _IDS.sub(lambda found: f'{found[1]}="{_numbered(found[2], number)}"', tag[0]), svg)
    title = escape(scene.title or "Single-line diagram")
    return (
        f'<figure>\n<div class="scroll" role="region" aria-label="{title}" tabindex="0"><div class="sheet">{svg}\n{links}</div></div>\n'
        f"<figcaption>{title}. A tag leads to its calculations.</figcaption>\n</figure>"
    )


def _numbered(ids: str, number: int) -> str:
    """Each of some ids with the number of its sheet, so that no two sheets of a page share one."""
    return " ".join(f"{name}-{number}" for name in ids.split())


def _link(tag: str, box: Box, scene: Scene, title: str) -> str:
    """A link as large as the box, in percent of the sheet."""
    left, top = (box.x0 - _PAD_IN) / scene.width_in, (box.y0 - _PAD_IN) / scene.height_in
    width, height = (box.width() + 2 * _PAD_IN) / scene.width_in, (box.height() + 2 * _PAD_IN) / scene.height_in
    place = f"left:{left:.3%};top:{top:.3%};width:{width:.3%};height:{height:.3%}"
    return f'<a class="hot" id="{drawing_id(tag)}" href="#{block_id(tag)}" style="{place}" aria-label="{escape(title)}"></a>'
