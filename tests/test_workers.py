"""Work shared among processes: order, errors, and what happens when the first process ends."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from linecalc.workers import shared_out


def _slow_first(number: int) -> int:
    time.sleep(0.1 if number == 0 else 0.0)
    return number * number


def _refuses_three(number: int) -> int:
    if number == 3:
        raise ValueError("three")
    return number


class _Told:
    word = ""


def _tell() -> None:
    _Told.word = "told"


def _word(_: int) -> str:
    return _Told.word


def test_results_come_in_the_order_of_the_items():
    assert list(shared_out(_slow_first, range(6), 2)) == [0, 1, 4, 9, 16, 25]


def test_every_process_begins_with_what_it_is_told():
    assert set(shared_out(_word, range(4), 2, _tell)) == {"told"} and _Told.word == ""


def test_an_error_of_one_item_reaches_the_caller():
    with pytest.raises(ValueError, match="three"):
        list(shared_out(_refuses_three, range(8), 2))


PROGRAM = """
import os, time
from linecalc.workers import shared_out
def work(number):
    print(os.getpid(), flush=True)
    time.sleep(60)
for _ in shared_out(work, range(2), 2):
    pass
"""


@pytest.mark.parametrize("ending", [signal.SIGKILL, signal.SIGTERM])
def test_no_process_outlives_the_first_one(ending: signal.Signals):
    with subprocess.Popen([sys.executable, "-c", PROGRAM], stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        workers = [int(child.stdout.readline()) for _ in range(2)]
        child.send_signal(ending)
        child.wait(10)
    assert all(_gone(worker) for worker in workers)


def _gone(process: int) -> bool:
    """Whether a process ends within ten seconds; one that has ended and is not yet collected counts."""
    for _ in range(200):
        stat = Path(f"/proc/{process}/stat")
        try:
            os.kill(process, 0)
            if stat.exists() and stat.read_text().rsplit(")", 1)[1].split()[0] == "Z":
                return True
        except (ProcessLookupError, FileNotFoundError):
            return True
        time.sleep(0.05)
    return False
