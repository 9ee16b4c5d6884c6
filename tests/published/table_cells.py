"""Which cells a table header speaks of, and how a published copy lines up with them.

The header of a table names cells in words: ``all``, or clauses joined by
``;`` such as ``rows EMT | FMC; trade_size 1/2 .. 2; columns total_in2``.
``rows`` means the first key column, ``a .. b`` a run in the order of the
table, ``|`` parts values, and ``+`` joins whole descriptions.
"""

from tests.tables.reader import read_table

LABELS = ("editions", "types", "note")

Cell = tuple[tuple[str, ...], str]


def key_of(header: dict, row: dict[str, str]) -> tuple[str, ...]:
    """Return the key of a row, with its editions when the table tells them apart."""
    return tuple(row[name] for name in [*header["key"], "editions"] if name in row)


def value_columns(header: dict, rows: list[dict[str, str]]) -> list[str]:
    """Return the columns that hold values, neither keys nor labels."""
    return [name for name in rows[0] if name not in header["key"] and name not in LABELS]


def values(header: dict, rows: list[dict[str, str]]) -> dict[Cell, str]:
    """Return every cell of a table by row key and column."""
    columns = value_columns(header, rows)
    return {(key_of(header, row), name): row[name] for row in rows for name in columns}


def _picked(order: list[str], words: str) -> set[str]:
    chosen: set[str] = set()
    for part in (word.strip() for word in words.split("|")):
        first, _, last = (end.strip() for end in part.partition(".."))
        start, stop = order.index(first), order.index(last or first)
        if stop < start:
            raise ValueError(f"{part!r} runs backwards")
        chosen.update(order[start : stop + 1])
    return chosen


def _block(header: dict, rows: list[dict[str, str]], text: str) -> set[Cell]:
    columns = set(value_columns(header, rows))
    wanted = rows
    for clause in (part.strip() for part in text.split(";")):
        name, words = clause.split(" ", 1)
        if name == "columns":
            columns = _picked(value_columns(header, rows), words)
            continue
        name = header["key"][0] if name == "rows" else name
        chosen = _picked(list(dict.fromkeys(row[name] for row in rows)), words)
        wanted = [row for row in wanted if row[name] in chosen]
    return {(key_of(header, row), name) for row in wanted for name in columns}


def named(header: dict, rows: list[dict[str, str]], text: str) -> set[Cell]:
    """Return the cells a header's ``cells`` words name.

    Errors
    ------
    ValueError : a value is not in the table, or a run goes backwards.
    """
    if text == "all":
        return set(values(header, rows))
    found: set[Cell] = set()
    for part in text.split(" + "):
        block = _block(header, rows, part)
        if not block:
            raise ValueError(f"{part!r} names no cell")
        found |= block
    return found


def copied(header: dict, rows: list[dict[str, str]], path) -> dict[Cell, str]:
    """Return the cells of a published copy, keyed as in our table.

    Where our rows differ by edition, the row of the copy's edition is meant.

    Errors
    ------
    ValueError : a row of the copy matches no row of ours, or more than one.
    """
    copy_header, copy_rows = read_table(path)
    found: dict[Cell, str] = {}
    for copy_row in copy_rows:
        same = [row for row in rows if all(row[name] == copy_row[name] for name in header["key"])]
        if len(same) > 1:
            same = [row for row in same if copy_header["edition"] in row["editions"].split()]
        if len(same) != 1:
            raise ValueError(f"{path}: {copy_row} matches {len(same)} rows")
        for name in value_columns(header, copy_rows):
            found[key_of(header, same[0]), name] = copy_row[name]
    return found


def same_number(one: str, other: str) -> bool:
    """Tell whether two cells hold the same number, or are both blank."""
    return one == other or (bool(one) and bool(other) and float(one) == float(other))
