"""Which cells of a table a header's `cells` line names.

A cell is named by its row and column; the row's name is its key columns joined
by spaces, `over` where the key is blank. A table of keys alone has one cell a
row, called by its key column.
"""

Row = dict[str, str]
NOT_VALUES = frozenset({"editions", "note_key", "types"})


def row_name(header: dict, row: Row) -> str:
    """Return the name of a row: its key columns joined by spaces."""
    return " ".join(row[column] for column in header["key"]) or "over"


def value_columns(header: dict, rows: list[Row]) -> list[str]:
    """Return the columns that hold values, or the key column where there is no other."""
    others = [c for c in rows[0] if c not in header["key"] and c not in NOT_VALUES]
    return others or list(header["key"])


def row_editions(row: Row) -> set[str]:
    """Return the editions a row stands for."""
    return set(row.get("editions", "2017 2020 2023").split())


def all_cells(header: dict, rows: list[Row]) -> set[tuple[int, str]]:
    """Return every cell of a table as (row index, column)."""
    return {(n, c) for n in range(len(rows)) for c in value_columns(header, rows)}


def named_cells(entry: dict, header: dict, rows: list[Row]) -> set[tuple[int, str]]:
    """Return the cells that a `checked` or `from_memory` entry names.

    `cells` is "all", or "rows A..B", "rows A, B", "columns x, y", or both kinds
    parted by a semicolon; `editions` narrows it to rows of those editions.

    Errors
    ------
    ValueError : a part, row or column that does not exist.
    """
    wanted = set(entry.get("editions", "2017 2020 2023").split())
    indices = [n for n, row in enumerate(rows) if row_editions(row) & wanted]
    columns = value_columns(header, rows)
    for part in ([] if entry["cells"] == "all" else entry["cells"].split(";")):
        kind, _, names = part.strip().partition(" ")
        if kind == "rows":
            indices = _named_rows(names, indices, [row_name(header, row) for row in rows])
        elif kind == "columns":
            columns = _named_columns(names, columns)
        else:
            raise ValueError(f"neither rows nor columns: {part!r}")
    return {(n, c) for n in indices for c in columns}


def _named_rows(names: str, indices: list[int], all_names: list[str]) -> list[int]:
    first, dots, last = names.partition("..")
    if dots:
        run = [n for n in indices if all_names[n] in (first, last)]
        chosen = [n for n in indices if min(run) <= n <= max(run)] if len(run) > 1 else []
    else:
        listed = {name.strip() for name in names.split(",")}
        if unknown := listed - {all_names[n] for n in indices}:
            raise ValueError(f"no such rows: {sorted(unknown)}")
        chosen = [n for n in indices if all_names[n] in listed]
    if not chosen:
        raise ValueError(f"no rows: {names!r}")
    return chosen


def _named_columns(names: str, columns: list[str]) -> list[str]:
    listed = [name.strip() for name in names.split(",")]
    if unknown := set(listed) - set(columns):
        raise ValueError(f"no such columns: {sorted(unknown)}")
    return listed
