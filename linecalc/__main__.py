"""The command line: ``linecalc`` and ``python -m linecalc``."""

from __future__ import annotations

import sys
from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status: 0 no fail, 1 some fail, 2 bad input."""
    from linecalc.cli import run

    return run(list(sys.argv[1:] if arguments is None else arguments))


if __name__ == "__main__":
    sys.exit(main())
