"""Reads a file of `tables/`, or a published copy, without the library's own reader.

Independent on purpose: the table tests must not lean on the code they guard.
"""

import csv
import tomllib
from pathlib import Path


def read_table(path: Path) -> tuple[dict, list[dict[str, str]]]:
    """Return the header of a table file and its rows, every value as text.

    The header is the TOML document formed by the leading lines that start
    with ``#``; the rest is a plain CSV whose first line names the columns.

    Errors
    ------
    ValueError : a row has more or fewer values than there are columns.
    """
    lines = Path(path).read_text(encoding="utf-8").splitlines()
    count = next((n for n, line in enumerate(lines) if not line.startswith("#")), len(lines))
    header = tomllib.loads("\n".join(line[1:].removeprefix(" ") for line in lines[:count]))
    rows = list(csv.DictReader(lines[count:], restval=None))
    for number, row in enumerate(rows, start=count + 2):
        if None in row or None in row.values():
            raise ValueError(f"{path}, line {number}: the row does not fit the columns")
    return header, rows
