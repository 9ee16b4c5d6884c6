"""Shared studies of the shipped examples, each run once."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest

from linecalc.options.content import Content, content_of
from linecalc.options.run import run_options
from linecalc.project.read import read_project

EXAMPLES = Path(__file__).parents[2] / "examples"


@lru_cache(maxsize=None)
def studied(name: str) -> Content:
    """The study of ``examples/options_NAME.toml``."""
    return content_of(run_options(read_project(EXAMPLES / f"options_{name}.toml"), str(EXAMPLES), workers=1), 1)


@pytest.fixture(scope="session")
def storage() -> Content:
    """Case 1: one unit plus storage modules."""
    return studied("storage")


@pytest.fixture(scope="session")
def units() -> Content:
    """Case 2: two units."""
    return studied("units")


@pytest.fixture(scope="session")
def array() -> Content:
    """Case 3: the smaller array and no storage module."""
    return studied("array")
