"""Careful reading of a raw document, in which any value may be of any type."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from linecalc.errors import QuantityError
from linecalc.units import Dimension, Quantity, parse_quantity

Document = Mapping[str, Any]


def entries(document: Document, kind: str) -> Iterator[tuple[str, Document]]:
    """Tag and keys of each well-formed table ``[kind.TAG]``."""
    tables = document.get(kind)
    if isinstance(tables, dict):
        for tag, keys in tables.items():
            if isinstance(tag, str) and isinstance(keys, dict):
                yield tag, keys


def tags(document: Document, *kinds: str) -> list[str]:
    """The tags of several kinds of tables, in the order written."""
    return [tag for kind in kinds for tag, _ in entries(document, kind)]


def text(keys: Document, key: str) -> str | None:
    """The text under ``key``, or None where there is none."""
    found = keys.get(key)
    return found if isinstance(found, str) else None


def texts(keys: Document, key: str) -> tuple[str, ...]:
    """The texts in the list under ``key``."""
    found = keys.get(key)
    return tuple(name for name in found if isinstance(name, str)) if isinstance(found, list | tuple) else ()


def amount(keys: Document, key: str, dimension: Dimension) -> Quantity | None:
    """The quantity under ``key``; None where it is absent or not one of ``dimension``."""
    return quantity(keys.get(key), dimension)


def quantity(value: Any, dimension: Dimension) -> Quantity | None:
    """``value`` as a quantity of ``dimension``, or None where it is none."""
    written = value.get("value") if isinstance(value, dict) else value
    if isinstance(written, Quantity):
        return written if written.unit == dimension.canonical else None
    if not isinstance(written, str):
        return None
    try:
        return parse_quantity(written, dimension)
    except QuantityError:
        return None
