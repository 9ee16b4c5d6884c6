"""Draw a scene as SVG: strokes through schemdraw, text as text in the embedded drafting font.

The same scene gives the same bytes in every process.  Text never passes through schemdraw, which
would read ``$`` as mathematics and stumble over ``&``; it is added to the same tree, placed by
the scene's own measures.
"""

from __future__ import annotations

import base64
from xml.etree import ElementTree

import schemdraw
from schemdraw.elements import Element
from schemdraw.segments import Segment, SegmentArc, SegmentCircle

from linecalc.diagram.fonts import font_metrics, font_resource, font_size_in
from linecalc.diagram.geometry import (
    LIGHT_PT,
    MEDIUM_PT,
    Arc,
    Circle,
    Letters,
    Polyline,
    Stroke,
    moved,
)
from linecalc.diagram.scene import Outline, Rule, Scene, Symbol, Text, Wire
from linecalc.diagram.strokes import DASH_PT, EXISTING_PT, OUTLINES, dashed, outline_points
from linecalc.diagram.symbols import BUS_KINDS, shape_of

PT_PER_IN = 72.0
_SVG = "{http://www.w3.org/2000/svg}"


def render_svg(scene: Scene) -> str:
    """The scene as one self-contained SVG document of the sheet's size."""
    root = _strokes_tree(scene)
    _set_size(root, scene)
    _add_head(root, scene)
    for text in scene.of(Text):
        _add_text(root, text)
    for symbol in scene.of(Symbol):
        _add_letters(root, symbol)
    body = ElementTree.tostring(root, encoding="unicode")
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + body + "\n"


class SceneElement(Element):
    """A schemdraw element whose segments are strokes of the scene, in page coordinates."""

    def __init__(self, segments: list) -> None:
        super().__init__()
        self.segments = segments
        self.params["drop"] = (0, 0)


def _strokes_tree(scene: Scene) -> ElementTree.Element:
    """Let schemdraw draw every stroke of the scene and return its tree."""
    drawing = schemdraw.Drawing(canvas="svg", show=False)
    drawing.config(unit=1, inches_per_unit=1, lw=MEDIUM_PT, margin=0)
    for item in scene.items:
        segments = _segments(item)
        if segments:
            drawing.add(SceneElement(segments).at((0, 0)))
    drawing.draw(show=False)
    root = ElementTree.fromstring(drawing.get_imagedata("svg"))
    for element in root.iter():
        style = element.get("style")
        if style:
            element.set("style", style.replace("stroke-dasharray:-;", ""))
    return root


def _segments(item: object) -> list:
    """schemdraw segments of one item; none for text."""
    if isinstance(item, Symbol):
        return _symbol_segments(item)
    if isinstance(item, Wire):
        weight = _wire_weight(item)
        return [_path(item.points, weight, _dash(DASH_PT) if item.existing else "-")]
    if isinstance(item, Rule):
        points = ((item.x0, item.y0), (item.x1, item.y1))
        return [_path(points, MEDIUM_PT if item.heavy else LIGHT_PT, "-")]
    if isinstance(item, Outline):
        return _outline_segments(item)
    return []


def _wire_weight(wire: Wire) -> float:
    if wire.existing:
        return EXISTING_PT
    return LIGHT_PT if wire.role == "ground" else MEDIUM_PT


def _symbol_segments(symbol: Symbol) -> list:
    segments = []
    for stroke in shape_of(symbol).strokes:
        on_page = moved(stroke, symbol.box.x0, symbol.box.y0)
        segment = _stroke_segment(on_page, symbol)
        if segment is not None:
            segments.append(segment)
    return segments


def _stroke_segment(stroke: Stroke, symbol: Symbol) -> object | None:
    """One stroke; what exists already is thin and dashed, its bus hollow."""
    if isinstance(stroke, Letters):
        return None
    weight = EXISTING_PT if symbol.existing else stroke.weight_pt
    dash = _dash(DASH_PT) if symbol.existing and dashed(stroke) else "-"
    if isinstance(stroke, Polyline):
        hollow = symbol.existing and symbol.kind in BUS_KINDS
        points = (*stroke.points, stroke.points[0]) if stroke.closed else stroke.points
        fill = "black" if stroke.filled and not hollow else None
        return _path(points, weight, "-" if hollow or stroke.filled else dash, fill)
    if isinstance(stroke, Circle):
        fill = "black" if stroke.filled else None
        return SegmentCircle((stroke.x, -stroke.y), stroke.radius, lw=weight, ls=dash, fill=fill)
    if isinstance(stroke, Arc):
        return SegmentArc(
            (stroke.x, -stroke.y), 2 * stroke.radius, 2 * stroke.radius,
            theta1=stroke.start_deg, theta2=stroke.end_deg, lw=weight, ls=dash,
        )
    raise TypeError(f"no drawing for {type(stroke).__name__}")


def _outline_segments(outline: Outline) -> list:
    line = OUTLINES[outline.kind]
    weight, dash = (EXISTING_PT, DASH_PT) if outline.existing else (line.weight_pt, line.dash_pt)
    points = outline_points(outline)
    return [_path((*points, points[0]), weight, _dash(dash))]


def _dash(lengths_pt: tuple[float, ...]) -> str:
    """Dashes as schemdraw writes them."""
    return ",".join(f"{length:g}" for length in lengths_pt) or "-"


def _path(points: tuple, weight: float, dash: str, fill: str | None = None) -> Segment:
    flipped = [(round(x, 4), -round(y, 4)) for x, y in points]
    return Segment(flipped, lw=weight, ls=dash, fill=fill, capstyle="butt", joinstyle="miter")


def _set_size(root: ElementTree.Element, scene: Scene) -> None:
    """Give the root the exact size of the sheet, without schemdraw's margin."""
    width, height = scene.width_in * PT_PER_IN, scene.height_in * PT_PER_IN
    root.attrib.clear()
    root.set("width", f"{scene.width_in:g}in")
    root.set("height", f"{scene.height_in:g}in")
    root.set("viewBox", f"0 0 {width:g} {height:g}")
    root.set("xml:lang", "en")
    root.set("role", "img")
    root.set("aria-labelledby", " ".join(_head_ids(scene)))


def _head_ids(scene: Scene) -> tuple[str, str]:
    """Names of title and description, other ones on every sheet of a drawing."""
    sheet = scene.sheet or "drawing"
    return f"{sheet}-title", f"{sheet}-description"


def _add_head(root: ElementTree.Element, scene: Scene) -> None:
    """Title, description, the embedded font, and a white sheet, ahead of every stroke."""
    title_id, description_id = _head_ids(scene)
    title = ElementTree.Element(f"{_SVG}title", {"id": title_id})
    title.text = _xml_safe(scene.title)
    description = ElementTree.Element(f"{_SVG}desc", {"id": description_id})
    description.text = _xml_safe(scene.description)
    style = ElementTree.Element(f"{_SVG}style")
    font = base64.b64encode(font_resource("woff2")).decode("ascii")
    family = font_metrics().family
    style.text = (
        f"@font-face{{font-family:'{family}';"
        f"src:url(data:font/woff2;base64,{font}) format('woff2')}}"
    )
    sheet = ElementTree.Element(
        f"{_SVG}rect",
        {"width": f"{scene.width_in * PT_PER_IN:g}", "height": f"{scene.height_in * PT_PER_IN:g}", "fill": "white"},
    )
    for index, element in enumerate((title, description, style, sheet)):
        root.insert(index, element)


def _add_text(root: ElementTree.Element, text: Text) -> None:
    for line, y in text.baselines():
        if line:
            _text_element(root, line, text.x, y, text.cap_in, text.anchor)


def _add_letters(root: ElementTree.Element, symbol: Symbol) -> None:
    for stroke in shape_of(symbol).strokes:
        if isinstance(stroke, Letters):
            x, y = symbol.box.x0 + stroke.x, symbol.box.y0 + stroke.y + stroke.cap_in / 2
            _text_element(root, stroke.text, x, y, stroke.cap_in, "middle")


def _text_element(
    root: ElementTree.Element, line: str, x: float, y: float, cap_in: float, anchor: str
) -> None:
    element = ElementTree.SubElement(root, f"{_SVG}text")
    element.set("x", _points(x))
    element.set("y", _points(y))
    element.set("font-family", font_metrics().family)
    element.set("font-size", f"{font_size_in(cap_in) * PT_PER_IN:.3f}")
    if anchor != "start":
        element.set("text-anchor", anchor)
    element.text = _xml_safe(line)


def _points(inches: float) -> str:
    return f"{inches * PT_PER_IN:.3f}".rstrip("0").rstrip(".")


def _xml_safe(text: str) -> str:
    """Text without the characters that XML cannot hold."""
    return "".join(c for c in text if c >= " " and not "\ud800" <= c <= "\udfff" and c not in "\ufffe\uffff")
