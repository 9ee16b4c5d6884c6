"""DXF: clean in the audit, everything where the scene has it, text that stays text."""

from __future__ import annotations

import io
import math

import pytest

ezdxf = pytest.importorskip("ezdxf")

from ezdxf.enums import TextEntityAlignment

from linecalc.diagram import render_dxf
from linecalc.diagram.dxf import LAYERS, literal
from linecalc.diagram.fonts import text_width_in
from linecalc.diagram.scene import Box, Outline, Scene, Symbol, Text, Wire
from tests.diagram.cached import drawn

WITHIN_IN = 0.01


def scenes(name):
    return drawn(f"examples/{name}.toml")


def opened(scene):
    return ezdxf.read(io.StringIO(render_dxf(scene)))


ALL = [(name, number) for name in ("a", "b", "c", "d") for number in range(len(scenes(name)))]


@pytest.mark.parametrize(("name", "number"), ALL)
def test_the_audit_finds_nothing_to_mend(name, number):
    audit = opened(scenes(name)[number]).audit()
    assert [*audit.errors, *audit.fixes] == []


@pytest.mark.parametrize(("name", "number"), ALL)
def test_every_symbol_is_a_block_within_a_hundredth_of_an_inch_of_the_scene(name, number):
    scene = scenes(name)[number]
    inserts = list(opened(scene).modelspace().query("INSERT"))
    symbols = scene.of(Symbol)
    assert len(inserts) == len(symbols)
    for insert, symbol in zip(inserts, symbols):
        x, y, _ = insert.dxf.insert
        assert math.dist((x, scene.height_in - y), (symbol.box.x0, symbol.box.y0)) < WITHIN_IN
        assert insert.dxf.name.startswith(symbol.kind.upper().replace(" ", "-"))


@pytest.mark.parametrize(("name", "number"), ALL)
def test_every_line_of_text_is_text_within_a_hundredth_of_an_inch_of_the_scene(name, number):
    scene = scenes(name)[number]
    entities = list(opened(scene).modelspace().query("TEXT"))
    lines = [(text, line, y) for text in scene.of(Text) for line, y in text.baselines() if line]
    assert len(entities) == len(lines)
    for entity, (text, line, y) in zip(entities, lines):
        align, start, end = entity.get_placement()
        left = text.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor] * text_width_in(line, text.cap_in)
        assert align is TextEntityAlignment.FIT
        assert math.dist((start.x, scene.height_in - start.y), (left, y)) < WITHIN_IN
        assert math.dist((end.x, end.y), (start.x + text_width_in(line, text.cap_in), start.y)) < WITHIN_IN
        assert entity.dxf.text == literal(line)
        assert entity.dxf.height == pytest.approx(text.cap_in)


@pytest.mark.parametrize(("name", "number"), ALL)
def test_layers_have_names_of_the_standard_and_nothing_lies_elsewhere(name, number):
    document = opened(scenes(name)[number])
    known = {layer for layer, _ in LAYERS}
    assert known <= {layer.dxf.name for layer in document.layers}
    assert {entity.dxf.layer for entity in document.modelspace()} <= known
    assert all(layer.split("-")[0] == "E" and 4 == len(layer.split("-")[1]) for layer in known)


def test_existing_things_lie_on_layers_of_their_own_and_are_dashed():
    scene = Scene((Wire(((1, 1), (3, 1)), existing=True), Wire(((1, 2), (3, 2))), Wire(((1, 3), (3, 3)), role="ground")))
    old, new, ground = opened(scene).modelspace()
    assert (old.dxf.layer, new.dxf.layer, ground.dxf.layer) == ("E-1LIN-E", "E-1LIN-N", "E-GRND-N")
    assert old.dxf.linetype != new.dxf.linetype == "Continuous"
    assert old.dxf.lineweight < new.dxf.lineweight


def test_equal_scenes_give_equal_text_and_leave_the_library_as_it_was():
    before = ezdxf.options.write_fixed_meta_data_for_testing
    assert render_dxf(scenes("a")[0]) == render_dxf(scenes("a")[0])
    assert ezdxf.options.write_fixed_meta_data_for_testing == before


def test_a_symbol_drawn_twice_is_one_block_inserted_twice():
    scene = Scene((Symbol("breaker", Box(1, 1, 1.5, 1.25)), Symbol("breaker", Box(3, 1, 3.5, 1.25))))
    document = opened(scene)
    names = {insert.dxf.name for insert in document.modelspace().query("INSERT")}
    assert len(names) == 1


@pytest.mark.parametrize("text", ["100%% %%d %%u", "^J up ^ next", "\\U+0041 \\P", '<b> "q" #$@ & {x;}', "x" * 80, "\u05e9\u05dc\u05d5\u05dd \u25a1"])
def test_strange_text_is_carried_as_it_is(text):
    document = opened(Scene((Text(1, 1, (text,), 0.1),)))
    found = document.modelspace()[0]
    assert found.dxf.text == literal(text)
    assert document.audit().errors == []
    shown = found.plain_text()
    assert shown.replace(" ", "") == text.replace(" ", "")


def test_the_drawing_has_the_size_of_the_sheet_in_inches():
    scene = scenes("a")[0]
    document = opened(scene)
    assert document.units == ezdxf.units.IN
    frame = next(item for item in scene.of(Outline) if item.kind == "frame")
    outer = max(document.modelspace().query("LWPOLYLINE[layer=='E-ANNO-TTLB']"), key=lambda line: max(x for x, *_ in line))
    assert max(x for x, *_ in outer) == pytest.approx(frame.box.x1)
    assert min(y for _, y, *_ in outer) == pytest.approx(scene.height_in - frame.box.y1)
