"""Studies that the report tests read: every example, and small changes of the first one."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from linecalc.project.read import read_project
from linecalc.study import Study, study
from linecalc.variants import with_values

EXAMPLES = Path(__file__).parents[2] / "examples"
HOSTILE = """a|b <img src=x onerror=alert(1)> `code` [link](http://x.example) & "q" 'p' *b* _i_ ~~s~~ $m$ </style></script>--> \\ #"""


def example_files() -> list[Path]:
    """The project files among the examples that hold a whole house."""
    return sorted(path for path in EXAMPLES.glob("*.toml") if "[project]" in path.read_text("utf-8"))


@lru_cache(maxsize=16)
def example(path: Path, edition: str | None = None) -> Study:
    """The study of an example file."""
    return study(read_project(path), edition)


def small_house() -> Study:
    """Example (a), which has no fail and nothing that is not checked."""
    return example(EXAMPLES / "a.toml")


@lru_cache(maxsize=64)
def changed(*settings: tuple[str, str]) -> Study:
    """Example (a) with values changed."""
    return study(with_values(read_project(EXAMPLES / "a.toml"), settings))


def failing_house() -> Study:
    """Example (a) with a breaker above the unit's maximum."""
    return changed(("circuit.C1.breaker", "60 A"))


def hostile_house() -> Study:
    """Example (a) with markup of every output format wherever a user may write text."""
    return changed(
        ("project.title", HOSTILE),
        ("project.address", HOSTILE),
        ("project.scope", HOSTILE),
        ("unit.U1.location", HOSTILE),
        ("panel.MP.description", HOSTILE),
        ("section.R3.place", HOSTILE),
        ("section.R3.moisture", "dry"),
    )
