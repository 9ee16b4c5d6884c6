"""Running the command line, within the process and as a process of its own."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import dataclass

import pytest

from linecalc.__main__ import main


@dataclass(frozen=True)
class Outcome:
    """What a command printed, and its exit status."""

    status: int
    out: str
    err: str


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> Outcome:
    """Run within this process."""
    status = main(list(arguments))
    captured = capsys.readouterr()
    return Outcome(status, captured.out, captured.err)


def run_process(*arguments: str, **options) -> Outcome:
    """Run as a process of its own."""
    done = subprocess.run([sys.executable, "-m", "linecalc", *arguments], capture_output=True, text=True, timeout=120, **options)
    return Outcome(done.returncode, done.stdout, done.stderr)
