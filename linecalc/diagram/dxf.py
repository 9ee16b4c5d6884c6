"""Draw a scene as DXF: blocks for symbols, real text, layers by the US National CAD Standard.

Model space is the sheet in inches, origin at its lower left corner, y upwards.

Each line of text is fitted between its ends (alignment FIT): it keeps its
room where the drafting font is not installed and another takes its place.

References
----------
Layer names: The American Institute of Architects, "AIA CAD Layer Guidelines: United States
National CAD Standard", version 5. Its table of contents (copy at
https://studylib.net/doc/25830018/aia-cad-layer-guidelines) was read for the form of a name:
discipline (1.3), major group (1.5), minor group (1.6), status (1.7), annotation layers (3.0),
electrical list (5.4). The groups used here, ``1LIN`` (one-line diagrams), ``GRND``, ``ANNO``
with ``TEXT``, ``IDEN``, ``NOTE``, ``LEGN``, ``TABL``, ``TTLB``, and the status N (new) and
E (existing): from memory.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from contextlib import contextmanager

import ezdxf
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts import BaseLayout

from linecalc.diagram.fonts import text_width_in
from linecalc.diagram.geometry import LIGHT_PT, MEDIUM_PT, Arc, Circle, Letters, Polyline, Stroke
from linecalc.diagram.scene import Item, Outline, Rule, Scene, Symbol, Text, Wire
from linecalc.diagram.strokes import DASH_PT, EXISTING_PT, OUTLINES, dashed, outline_points
from linecalc.diagram.symbols import BUS_KINDS, shape_of

FONT_FILE = "linecalc-drafting.ttf"
STYLE = "LINECALC"
DASHED, BOUNDARY = "LINECALC-DASHED", "LINECALC-BOUNDARY"
_PT_PER_IN = 72.0
_MM100_PER_PT = 2540.0 / 72.0
#: The line weights that the format knows, in 1/100 mm.
_WEIGHTS = (13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100)
LAYERS = (
    ("E-1LIN-N", "one-line diagram, new"),
    ("E-1LIN-E", "one-line diagram, existing"),
    ("E-GRND-N", "grounding, new"),
    ("E-GRND-E", "grounding, existing"),
    ("E-ANNO-TEXT", "text beside the diagram"),
    ("E-ANNO-IDEN", "tags of conductor runs"),
    ("E-ANNO-NOTE", "notes"),
    ("E-ANNO-LEGN", "legend"),
    ("E-ANNO-TABL", "tables"),
    ("E-ANNO-TTLB", "border and title block"),
)
_TEXT_LAYERS = {"note": "E-ANNO-NOTE", "heading": "E-ANNO-NOTE", "table": "E-ANNO-TABL", "title": "E-ANNO-TTLB", "tag": "E-ANNO-IDEN"}
_OUTLINE_LAYERS = {"frame": "E-ANNO-TTLB", "title": "E-ANNO-TTLB", "table": "E-ANNO-TABL", "run tag": "E-ANNO-IDEN", "reference": "E-ANNO-IDEN"}
#: How much of its width a line has to the left of its anchor.
_LEFT_OF_ANCHOR = {"start": 0.0, "middle": 0.5, "end": 1.0}
_GROUND_KINDS = ("electrode", "equipment ground", "neutral bond", "neutral bond below")


def render_dxf(scene: Scene) -> str:
    """The scene as a DXF document of release 2010; equal scenes give equal text."""
    with _fixed_meta_data():
        document = _document(scene)
        space = document.modelspace()
        for item in scene.items:
            _draw(document, space, item, scene.height_in)
        out = io.StringIO()
        document.write(out)
    return out.getvalue()


@contextmanager
def _fixed_meta_data() -> Iterator[None]:
    """No dates and no random identifiers in what is written."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _document(scene: Scene) -> Drawing:
    document = ezdxf.new("R2010", units=ezdxf.units.IN)
    document.header["$MEASUREMENT"] = 0
    document.header["$LWDISPLAY"] = 1
    document.set_modelspace_vport(scene.height_in * 1.05, center=(scene.width_in / 2, scene.height_in / 2))
    document.styles.add(STYLE, font=FONT_FILE)
    document.linetypes.add(DASHED, _pattern(DASH_PT), description="existing")
    document.linetypes.add(BOUNDARY, _pattern(OUTLINES["boundary"].dash_pt), description="backed-up part")
    for name, description in LAYERS:
        document.layers.add(name).description = description
    return document


def _pattern(dash_pt: tuple[float, ...]) -> list[float]:
    """A dash pattern in points as the format has it: whole length, then dashes and gaps in inches."""
    inches = [length / _PT_PER_IN for length in dash_pt]
    signed = [length if index % 2 == 0 else -length for index, length in enumerate(inches)]
    return [sum(inches), *signed]


def _draw(document: Drawing, space: BaseLayout, item: Item, height: float) -> None:
    match item:
        case Symbol():
            name = _block(document, item)
            space.add_blockref(name, (item.box.x0, height - item.box.y0), dxfattribs={"layer": _symbol_layer(item)})
        case Wire():
            weight = EXISTING_PT if item.existing else LIGHT_PT if item.role == "ground" else MEDIUM_PT
            layer = ("E-ANNO-LEGN" if item.role == "sample" else _status("E-GRND" if item.role == "ground" else "E-1LIN", item.existing))
            _path(space, item.points, height, layer, weight, DASHED if item.existing else "")
        case Rule():
            _path(space, ((item.x0, item.y0), (item.x1, item.y1)), height, "E-ANNO-TABL", MEDIUM_PT if item.heavy else LIGHT_PT)
        case Outline():
            line = OUTLINES[item.kind]
            weight = EXISTING_PT if item.existing else line.weight_pt
            kind = DASHED if item.existing else BOUNDARY if line.dash_pt else ""
            layer = _OUTLINE_LAYERS.get(item.kind) or _status("E-1LIN", item.existing)
            _path(space, outline_points(item), height, layer, weight, kind, closed=True)
        case Text():
            _add_text(space, item, height)


def _status(group: str, existing: bool) -> str:
    return f"{group}-{'E' if existing else 'N'}"


def _symbol_layer(symbol: Symbol) -> str:
    return _status("E-GRND" if symbol.kind in _GROUND_KINDS else "E-1LIN", symbol.existing)


def _path(space: BaseLayout, points: tuple, height: float, layer: str, weight: float, linetype: str = "", closed: bool = False) -> None:
    flipped = [(round(x, 4), round(height - y, 4)) for x, y in points]
    space.add_lwpolyline(flipped, close=closed, dxfattribs=_line(layer, weight, linetype))


def _line(layer: str, weight_pt: float, linetype: str) -> dict[str, str | int]:
    weight = min(_WEIGHTS, key=lambda known: abs(known - weight_pt * _MM100_PER_PT))
    return {"layer": layer, "lineweight": weight, "linetype": linetype or "Continuous"}


def _add_text(space: BaseLayout, text: Text, height: float) -> None:
    layer = _TEXT_LAYERS.get(text.role, "E-ANNO-TEXT")
    for line, y in text.baselines():
        if line:
            left = text.x - _LEFT_OF_ANCHOR[text.anchor] * text_width_in(line, text.cap_in)
            _fitted(space, line, left, height - y, text.cap_in, layer)


def _fitted(space: BaseLayout, line: str, left: float, baseline: float, cap_in: float, layer: str) -> None:
    """One line of text between its ends on the baseline."""
    entity = space.add_text(literal(line), height=cap_in, dxfattribs={"layer": layer, "style": STYLE})
    y, right = round(baseline, 4), round(left + text_width_in(line, cap_in), 4)
    entity.set_placement((round(left, 4), y), (right, y), align=TextEntityAlignment.FIT)


def literal(text: str) -> str:
    """Text in which no program reads a code: ``%%d``, ``^J`` and ``\\U+0041`` stay what they are.

    Examples
    --------
    >>> literal("100%%")
    '100%%%%%%'
    """
    found = text.replace("%%", "%%%%%%").replace("^", "^ ")
    return found.replace("\\U+", "\\ U+").replace("\\M+", "\\ M+")


def _block(document: Drawing, symbol: Symbol) -> str:
    """The name of the block of a symbol, made when it is first used; its base is the top left corner."""
    box = symbol.box
    size = f"{box.width():.3f}x{box.height():.3f}"
    name = f"{symbol.kind.upper().replace(' ', '-')}-{size}-{'E' if symbol.existing else 'N'}"
    if name not in document.blocks:
        block = document.blocks.new(name)
        for stroke in shape_of(symbol).strokes:
            _add_stroke(block, stroke, symbol)
    return name


def _add_stroke(block: BaseLayout, stroke: Stroke, symbol: Symbol) -> None:
    if isinstance(stroke, Letters):
        left = stroke.x - text_width_in(stroke.text, stroke.cap_in) / 2
        _fitted(block, stroke.text, left, -stroke.y - stroke.cap_in / 2, stroke.cap_in, "0")
        return
    weight = EXISTING_PT if symbol.existing else stroke.weight_pt
    hollow = symbol.existing and symbol.kind in BUS_KINDS
    kind = DASHED if symbol.existing and not hollow and dashed(stroke) else ""
    attributes = _line("0", weight, kind)
    if isinstance(stroke, Polyline):
        points = [(round(x, 4), round(-y, 4)) for x, y in stroke.points]
        block.add_lwpolyline(points, close=stroke.closed, dxfattribs=attributes)
        if stroke.filled and not hollow:
            _filled(block).paths.add_polyline_path(points, is_closed=True)
    elif isinstance(stroke, Circle):
        block.add_circle((stroke.x, -stroke.y), stroke.radius, dxfattribs=attributes)
        if stroke.filled:
            _filled(block).paths.add_edge_path().add_arc((stroke.x, -stroke.y), stroke.radius, 0, 360)
    elif isinstance(stroke, Arc):
        block.add_arc((stroke.x, -stroke.y), stroke.radius, stroke.start_deg, stroke.end_deg, dxfattribs=attributes)


def _filled(block: BaseLayout) -> ezdxf.entities.Hatch:
    return block.add_hatch(color=ezdxf.const.BYLAYER, dxfattribs={"layer": "0"})

