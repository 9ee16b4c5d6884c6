"""The laws of the printed lines, on an invented house of every topology and wiring method."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.report import test_every_line_is_true as lines

PROJECTS = Path(__file__).parents[1] / "projects"
FILES = [path for path in sorted(PROJECTS.glob("*.toml")) if path.stem != "equipment"]
LAWS = (
    lines.test_the_substitution_as_printed_gives_the_printed_value,
    lines.test_the_printed_value_is_the_computed_value,
    lines.test_the_expression_gives_the_value,
    lines.test_every_number_of_a_step_can_be_followed_to_its_origin,
    lines.test_a_cell_of_a_table_holds_the_number_that_was_used,
)


@pytest.mark.parametrize("edition", ["2017", "2023"])
@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
@pytest.mark.parametrize("law", LAWS, ids=lambda law: law.__name__.removeprefix("test_"))
def test_the_laws_of_printed_lines_hold_on_every_topology(law, path: Path, edition: str) -> None:
    law(path, edition)
