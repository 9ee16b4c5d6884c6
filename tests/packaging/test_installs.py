"""The package works the same from an editable install, a wheel and a source distribution."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROBE = """
import linecalc, linecalc.tables
print(linecalc.__file__, linecalc.tables.__file__)
from linecalc.codebook import open_book
from linecalc.codebook.tables import names
print(len(names()), open_book("2023").ampacity("6 AWG", "Cu", 75).value)
study = linecalc.compute(linecalc.read_project(r"{example}"))
print(sorted({{check.level.value for check in study.checks}}))
"""


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel and a source distribution built from a copy of the checkout."""
    if not (ROOT / ".git").exists():
        pytest.skip("needs a git checkout: the source distribution lists the files that git tracks")
    target = tmp_path_factory.mktemp("dist")
    copy = tmp_path_factory.mktemp("copy") / "linecalc"
    left_out = shutil.ignore_patterns(".venv", "out", "build", "dist", "*.egg-info", "__pycache__", ".pytest_cache", ".hypothesis")
    shutil.copytree(ROOT, copy, ignore=left_out)
    done = subprocess.run(
        [sys.executable, "-m", "build", "--no-isolation", "--outdir", str(target), str(copy)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return target


def probe(directory: Path, installed: Path | None = None) -> str:
    """What linecalc prints, run away from the checkout; ``installed`` is looked in first."""
    shutil.copy(ROOT / "examples" / "a.toml", directory / "a.toml")
    code = PROBE.format(example=directory / "a.toml")
    paths = {} if installed is None else {"PYTHONPATH": str(installed)}
    done = subprocess.run(
        [sys.executable, "-P", "-c", code], capture_output=True, text=True, cwd=directory, check=False, env={**os.environ, **paths}
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return done.stdout


@pytest.mark.parametrize("kind", ["*.whl", "*.tar.gz"])
def test_a_built_package_computes_an_example_as_the_checkout_does(kind: str, built: Path, tmp_path: Path) -> None:
    installed = tmp_path / "installed"
    done = subprocess.run(
        [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--no-build-isolation", "--target", str(installed), str(next(built.glob(kind)))],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    where, *rest = probe(tmp_path, installed).splitlines()
    from_checkout, *expected = probe(tmp_path).splitlines()
    assert str(installed) in where
    assert str(ROOT) in from_checkout
    assert rest == expected


def test_the_source_distribution_holds_examples_tests_and_tables(built: Path) -> None:
    import tarfile

    with tarfile.open(next(built.glob("*.tar.gz"))) as archive:
        names = {name.split("/", 1)[1] for name in archive.getnames() if "/" in name}
    assert {"examples/a.toml", "tables/310.16.csv", "tests/examples/test_examples.py", "README.md", "LICENSE"} <= names
