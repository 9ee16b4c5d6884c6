"""Work shared among processes: results in the order of the items, and no process left behind by Ctrl-C."""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import parent_process
from typing import TypeVar

Item = TypeVar("Item")
Done = TypeVar("Done")


def shared_out(work: Callable[[Item], Done], items: Sequence[Item], workers: int, begin: Callable[[], None] | None = None) -> Iterator[Done]:
    """The work done on each item, in order, each as soon as it and those before it are done.

    Parameters
    ----------
    work, begin : functions that another process can be told: those of a module, or partials of them.
        *begin* runs first in every process.
    """
    pool = ProcessPoolExecutor(workers, initializer=_begin, initargs=(begin,))
    try:
        yield from pool.map(work, items)
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _begin(begin: Callable[[], None] | None) -> None:
    """Ctrl-C is the first process's affair, and nothing outlives that process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    if begin is not None:
        begin()


def _end_with_parent() -> None:
    parent = parent_process()
    assert parent is not None
    parent.join()
    os._exit(1)
