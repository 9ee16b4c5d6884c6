"""An invented house of every topology, and a very large one: what the layout promises holds on each of them.

`tests/diagram/many_houses.py` looks over as many more as asked for.
"""

from __future__ import annotations

import re
from functools import lru_cache
from statistics import median

import pytest

from linecalc.diagram import draw
from linecalc.diagram import scene_checks as checks
from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN
from linecalc.diagram.one_sheet import run_tags
from linecalc.diagram.scene import Outline, Scene, Symbol, Text, subject_boxes
from linecalc.study import Study, study
from tests.diagram.random_house import TOPOLOGIES, random_house, topology_of

#: One seed of every topology.
SEEDS = (15, 1, 2, 63, 49, 20, 51, 22, 38, 69, 25, 26, 57, 43, 74)
LARGE = -1


@lru_cache(maxsize=None)
def drawn(seed: int) -> tuple[Study, tuple[Scene, ...]]:
    """A house of one seed, or the large one: 8 units, 40 strings, 24 storage modules behind an isolation device."""
    found = study(random_house(7, 8, 40, 24, "backup subpanel") if seed == LARGE else random_house(seed))
    return found, draw(found)


def sheets():
    return [(seed, scene) for seed in (*SEEDS, LARGE) for scene in drawn(seed)[1]]


def test_the_houses_are_of_every_topology():
    assert {topology_of(seed) for seed in SEEDS} == set(TOPOLOGIES)


@pytest.mark.parametrize("check", [
    checks.overlaps, checks.wires_through, checks.crossings, checks.loose_ends, checks.outside_frame,
    checks.small_text, checks.duplicate_buses,
])
def test_no_sheet_of_any_house_has_a_fault(check):
    assert [(seed, fault) for seed, scene in sheets() for fault in check(scene)] == []


def test_half_of_the_frame_is_used_in_the_median_and_none_is_nearly_empty():
    ratios = [checks.used_ratio(scene) for _, scene in sheets()]
    assert median(ratios) >= 0.5
    assert min(ratios) > 0.3


def test_every_run_has_its_tag_and_its_row_in_the_schedule_of_the_same_sheet_and_of_no_other():
    for seed in (*SEEDS, LARGE):
        found, scenes = drawn(seed)
        assert {tag for scene in scenes for tag in run_tags(scene)} == {c.tag for c in found.network.circuits}
        for scene in scenes:
            rows = " ".join(line for text in scene.of(Text) if text.role == "table" for line in text.lines)
            words = set(rows.replace(",", " ").split())
            assert set(run_tags(scene)) <= words, seed
            if len(scenes) > 1:
                elsewhere = {circuit.tag for circuit in found.network.circuits} - set(run_tags(scene))
                assert not elsewhere & words, seed


def test_every_thing_is_drawn_and_no_bus_on_two_sheets():
    for seed in (*SEEDS, LARGE):
        found, scenes = drawn(seed)
        tags = set(found.network.nodes)
        subjects = [set(subject_boxes(scene)) for scene in scenes]
        assert tags <= set().union(*subjects), seed
        buses = [s.subject for scene in scenes for s in scene.of(Symbol) if s.kind == "bus" and s.subject]
        assert len(buses) == len(set(buses))
        assert set(found.project.panel) <= set(buses)


def test_every_reference_has_its_match_and_names_the_sheet_on_which_it_stands():
    for seed in (*SEEDS, LARGE):
        assert checks.unmatched_references(drawn(seed)[1]) == (), seed


def test_a_system_of_eight_units_forty_strings_and_24_modules_stays_legible_on_few_sheets():
    found, scenes = drawn(LARGE)
    assert (len(found.project.unit), len(found.project.string), len(found.project.storage)) == (8, 40, 24)
    assert 1 < len(scenes) <= 6
    assert not any("…" in line for scene in scenes for line in checks.diagram_lines(scene))
    symbols = [item.subject for scene in scenes for item in scene.of(Symbol) if item.kind == "storage module" and item.subject]
    assert sorted(tag for subject in symbols for tag in subject.split(", ")) == sorted(found.project.storage)


def test_both_ends_of_every_reference_of_the_large_system_name_each_others_sheet():
    scenes = drawn(LARGE)[1]
    said = {}
    for scene in scenes:
        for text in scene.of(Text):
            if text.subject.startswith("reference ") and text.role != "tag":
                line = " ".join(text.lines)
                said.setdefault(text.subject, []).append((scene.sheet, line.split()[0], re.findall(r"E-601[.0-9]*", line)))
    assert len(said) >= 8
    for ends in said.values():
        (here, word, there), (other, other_word, back) = sorted(ends, key=lambda end: end[1] != "to")
        assert (word, other_word) == ("to", "from")
        assert there == [other] and back == [here] and here != other


def test_sheets_are_numbered_and_each_carries_edition_and_caution():
    for seed in SEEDS:
        found, scenes = drawn(seed)
        for number, scene in enumerate(scenes, start=1):
            words = " ".join(line for text in scene.of(Text) for line in text.lines)
            assert f"sheet {number} of {len(scenes)}" in words
            assert f"NEC {found.book.edition}" in words and "not to scale" in words
            assert "Calculation aid only." in words and found.checked_against in words


def test_tag_lines_and_headings_are_at_least_of_the_smallest_size():
    for _, scene in sheets():
        for text in scene.of(Text):
            assert text.cap_in >= CAP_MIN_IN
            if text.role == "heading":
                assert text.cap_in >= CAP_REVIEW_IN


def test_the_backed_up_part_lies_within_a_labelled_border_on_every_sheet():
    for seed in (*SEEDS, LARGE):
        found, scenes = drawn(seed)
        island = found.network.island
        if island is None or found.network.is_standalone():
            continue
        inside = set(found.network.below(island)[1:]) - {island}
        panels = inside & set(found.project.panel)
        for scene in scenes:
            borders = [item.box for item in scene.of(Outline) if item.kind == "boundary" and not _sample(item)]
            boxes = subject_boxes(scene)
            for tag in panels & set(boxes):
                assert any(border.contains(boxes[tag]) for border in borders), (seed, tag)
            for tag in (set(found.project.panel) - panels) & set(boxes):
                assert not any(border.contains(boxes[tag]) for border in borders), (seed, tag)


def _sample(item: Outline) -> bool:
    """The sample of a boundary in the legend."""
    return item.box.width() < 0.5


@pytest.mark.parametrize("topology", ["whole home", "two panels"])
def test_six_units_eight_strings_and_twelve_modules_are_drawn_whole_on_two_sheets_at_most(topology):
    found = study(random_house(7, 6, 8, 12, topology))
    scenes = draw(found)
    assert len(scenes) <= 2
    assert [fault for scene in scenes for fault in checks.all_faults(scene)] == []


def test_the_same_house_is_drawn_the_same_twice():
    assert draw(study(random_house(25))) == drawn(25)[1]
