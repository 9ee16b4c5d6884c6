"""The starter project reads, checks clean and explains its keys."""

from __future__ import annotations

import linecalc
from linecalc.check import Level
from linecalc.cli.new import starter_text


def test_the_starter_reads():
    assert linecalc.read_text(starter_text()).project.title == "Starter house"


def test_the_starter_checks_clean():
    study = linecalc.compute(linecalc.read_text(starter_text()))
    unclean = [check for check in study.checks if check.level in (Level.FAIL, Level.NOT_CHECKED)]
    assert not unclean, "\n".join(f"{check.subject} {check.rule}: {check.message}" for check in unclean)
    assert study.count(Level.PASS) > 20


def test_the_starter_says_that_it_is_invented():
    assert "invented" in starter_text().split("[project]")[0]


def test_the_starter_is_plain_ascii_so_that_every_editor_shows_it():
    assert starter_text().isascii()


def test_the_circuits_leave_the_selection_of_new_conductors_to_linecalc():
    project = linecalc.read_text(starter_text())
    assert project.circuit["C4"].conductor is None
    assert project.section["R4"].size is None


def test_the_comment_on_a_key_fits_the_line():
    assert max(len(line) for line in starter_text().splitlines()) <= 120
