"""Reading of the code tables: a header block in TOML, then a plain CSV."""

from __future__ import annotations

import csv
import tomllib
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import lru_cache
from importlib.resources import files

from linecalc.errors import InputError, Problem, TableError

_NOT_TABLES = ("citations", "checklist")


@dataclass(frozen=True, slots=True)
class Header:
    """What the header block of a table says."""

    name: str
    title: str
    rule_key: str
    key: tuple[str, ...]
    numbers: dict[str, str]
    unit_note: str
    checked: tuple[str, ...]
    from_memory: tuple[str, ...]
    extra: dict[str, object]


@dataclass(frozen=True, slots=True)
class Table:
    """One code table in one edition; cells are kept as the text of the file, columns once they are read."""

    header: Header
    edition: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    _texts: dict[str, tuple[str, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)
    _floats: dict[str, tuple[float | None, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def number(self) -> str:
        """The table's number in this edition."""
        return self.header.numbers[self.edition]

    def column(self, name: str) -> int:
        """The index of a column.

        Raises
        ------
        TableError
            There is no such column.
        """
        if name not in self.columns:
            raise TableError(f"{self.number} has no column {name}; it has {', '.join(self.columns)}")
        return self.columns.index(name)

    def floats(self, column: str) -> tuple[float | None, ...]:
        """A column as floats, None where the table is blank."""
        if column not in self._floats:
            self._floats[column] = tuple(float(text) if text else None for text in self.texts(column))
        return self._floats[column]

    def texts(self, column: str) -> tuple[str, ...]:
        """A column as text."""
        if column not in self._texts:
            index = self.column(column)
            self._texts[column] = tuple(row[index] for row in self.rows)
        return self._texts[column]


def names() -> tuple[str, ...]:
    """The names of all tables, in natural order."""
    found = (entry.name.removesuffix(".csv") for entry in files("linecalc.tables").iterdir() if entry.name.endswith(".csv"))
    return tuple(sorted(name for name in found if name not in _NOT_TABLES))


@lru_cache(maxsize=256)
def load(name: str, edition: str) -> Table:
    """The table ``name`` as edition ``edition`` ("2017", "2020" or "2023") has it.

    Raises
    ------
    InputError
        There is no table of that name; the nearest names are given.
    """
    resource = files("linecalc.tables") / f"{name}.csv"
    if name in _NOT_TABLES or not resource.is_file():
        nearest = tuple(get_close_matches(name, names(), 3, 0.4))
        hint = f"; nearest: {', '.join(nearest)}" if nearest else ""
        raise InputError([Problem(f'no table "{name}"{hint}', found=name, expected=", ".join(names()), nearest=nearest)])
    text = resource.read_text("utf-8")
    lines = text.splitlines()
    first = next(number for number, line in enumerate(lines) if not line.startswith("#"))
    header = _header("\n".join(line[2:] for line in lines[:first]))
    columns, *rows = csv.reader(lines[first:])
    return Table(header, edition, *_of_edition(columns, rows, edition))


def _of_edition(columns: list[str], rows: list[list[str]], edition: str) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    if "editions" not in columns:
        return tuple(columns), tuple(tuple(row) for row in rows)
    at = columns.index("editions")
    kept = [row for row in rows if edition in row[at].split()]
    return tuple(columns[:at] + columns[at + 1 :]), tuple(tuple(row[:at] + row[at + 1 :]) for row in kept)


def _header(text: str) -> Header:
    raw = tomllib.loads(text)
    numbers = {key.removeprefix("number_"): value for key, value in raw.items() if key.startswith("number_")}
    checked = tuple(
        f"{block['publisher']}, {block['title']} ({block['cells']}; agrees: {block.get('agrees', 'all')})"
        for block in raw.get("checked", [])
    )
    memory = tuple(str(block["cells"]) for block in raw.get("from_memory", []))
    known = {"name", "title", "rule_key", "key", "unit_note", "checked", "from_memory"}
    extra = {key: value for key, value in raw.items() if key not in known and not key.startswith("number_")}
    return Header(
        raw["name"], raw["title"], raw["rule_key"], tuple(raw["key"]), numbers, raw.get("unit_note", ""), checked, memory, extra
    )
