"""Sixty invented houses of every topology: what the layout promises holds on each of them."""

from __future__ import annotations

from functools import lru_cache
from statistics import median

import pytest

from linecalc.diagram import draw
from linecalc.diagram import scene_checks as checks
from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN
from linecalc.diagram.one_sheet import run_tags
from linecalc.diagram.scene import Outline, Scene, Symbol, Text, subject_boxes
from linecalc.study import Study, study
from tests.diagram.random_house import TOPOLOGIES, random_house

SEEDS = range(24)


@lru_cache(maxsize=None)
def drawn(seed: int) -> tuple[Study, tuple[Scene, ...]]:
    found = study(random_house(seed))
    return found, draw(found)


def sheets():
    return [(seed, scene) for seed in SEEDS for scene in drawn(seed)[1]]


@pytest.mark.parametrize("check", [
    checks.overlaps, checks.wires_through, checks.crossings, checks.loose_ends, checks.outside_frame,
    checks.small_text, checks.duplicate_buses,
])
def test_no_sheet_of_many_houses_has_a_fault(check):
    assert [(seed, fault) for seed, scene in sheets() for fault in check(scene)] == []


def test_half_of_the_frame_is_used_in_the_median_and_none_is_nearly_empty():
    ratios = [checks.used_ratio(scene) for _, scene in sheets()]
    assert median(ratios) >= 0.5
    assert min(ratios) > 0.25


def test_every_run_has_its_tag_and_every_tag_its_row_in_the_schedule_of_the_same_sheet():
    for seed in SEEDS:
        found, scenes = drawn(seed)
        assert {tag for scene in scenes for tag in run_tags(scene)} == {c.tag for c in found.network.circuits}
        for scene in scenes:
            rows = " ".join(line for text in scene.of(Text) if text.role == "table" for line in text.lines)
            words = set(rows.replace(",", " ").split())
            assert set(run_tags(scene)) <= words, seed


def test_every_thing_is_drawn_and_no_bus_on_two_sheets():
    for seed in SEEDS:
        found, scenes = drawn(seed)
        tags = set(found.network.nodes)
        subjects = [set(subject_boxes(scene)) for scene in scenes]
        assert tags <= set().union(*subjects), seed
        buses = [s.subject for scene in scenes for s in scene.of(Symbol) if s.kind == "bus" and s.subject]
        assert len(buses) == len(set(buses)) == len(found.project.panel)


def test_every_reference_on_one_sheet_has_its_match():
    for seed in SEEDS:
        letters = [
            text.lines[0] for scene in drawn(seed)[1] for text in scene.of(Text)
            if text.subject.startswith("reference ") and text.role == "tag"
        ]
        assert all(letters.count(letter) == 2 for letter in letters), seed


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


def test_the_backed_up_part_lies_within_a_labelled_border():
    for seed in SEEDS:
        found, scenes = drawn(seed)
        if found.network.island is None:
            continue
        borders = [item.box for scene in scenes for item in scene.of(Outline) if item.kind == "boundary" and item.subject != ""]
        assert borders
        inside = found.network.below(found.network.island)[1:]
        first = scenes[0]
        border = next(i.box for i in first.of(Outline) if i.kind == "boundary" and i.subject == found.network.island)
        panels = [tag for tag in inside if tag in found.project.panel]
        for tag in panels:
            assert border.contains(subject_boxes(first)[tag])
        outside = subject_boxes(first)[found.network.island]
        assert not border.contains(outside)


@pytest.mark.parametrize("topology", TOPOLOGIES)
def test_six_units_eight_strings_and_twelve_modules_are_drawn_whole_on_two_sheets_at_most(topology):
    found = study(random_house(7, 6, 8, 12, topology))
    scenes = draw(found)
    assert len(scenes) <= 2
    assert [fault for scene in scenes for fault in checks.all_faults(scene)] == []


def test_the_same_house_is_drawn_the_same_twice():
    assert draw(study(random_house(3))) == draw(study(random_house(3)))
