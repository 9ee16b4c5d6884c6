"""The package works the same from an editable install, a wheel and a source distribution."""

from __future__ import annotations

import shutil
import subprocess
import sys
import venv
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROBE = """
import linecalc
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
    done = subprocess.run(
        [sys.executable, "-m", "build", "--outdir", str(target), str(ROOT)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return target


def environment(tmp_path: Path) -> Path:
    """A new environment that borrows the libraries of this one, but not linecalc."""
    venv.create(tmp_path / "env", with_pip=True)
    python = tmp_path / "env" / "bin" / "python"
    site = subprocess.run(
        [str(python), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"], capture_output=True, text=True, check=True
    ).stdout.strip()
    libraries = Path(shutil.__file__).parent / "site-packages"
    here = Path(pytest.__file__).parent.parent
    (Path(site) / "borrowed.pth").write_text(f"{here}\n{libraries}\n")
    return python


def probe(python: Path, directory: Path) -> str:
    """What an installed linecalc prints, run away from the checkout."""
    shutil.copy(ROOT / "examples" / "a.toml", directory / "a.toml")
    code = PROBE.format(example=directory / "a.toml")
    done = subprocess.run([str(python), "-P", "-c", code], capture_output=True, text=True, cwd=directory, check=False)
    assert done.returncode == 0, done.stderr[-2000:]
    return done.stdout


def install(python: Path, what: str) -> None:
    done = subprocess.run(
        [str(python), "-m", "pip", "install", "-q", "--no-deps", "--force-reinstall", what], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr[-2000:]


@pytest.mark.parametrize("kind", ["*.whl", "*.tar.gz"])
def test_a_built_package_computes_an_example_as_the_checkout_does(kind: str, built: Path, tmp_path: Path) -> None:
    python = environment(tmp_path)
    install(python, str(next(built.glob(kind))))
    where = subprocess.run(
        [str(python), "-P", "-c", "import linecalc; print(linecalc.__file__)"], capture_output=True, text=True, cwd=tmp_path, check=True
    ).stdout
    assert str(tmp_path) in where
    expected = probe(Path(sys.executable), tmp_path)
    assert probe(python, tmp_path) == expected


def test_the_source_distribution_holds_examples_tests_and_tables(built: Path) -> None:
    import tarfile

    with tarfile.open(next(built.glob("*.tar.gz"))) as archive:
        names = {name.split("/", 1)[1] for name in archive.getnames() if "/" in name}
    assert {"examples/a.toml", "tables/310.16.csv", "tests/examples/test_examples.py", "README.md", "LICENSE"} <= names
