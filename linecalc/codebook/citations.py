"""The citation map: rule key to section, per edition, with the evidence for it."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from linecalc.errors import TableError

COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Citation:
    """Where a rule stands in one edition. ``evidence`` is T, P or M, or empty for common practice."""

    key: str
    description: str
    section: str
    evidence: str
    note: str

    @property
    def asked(self) -> bool:
        """Whether the edition has the rule at all."""
        return not self.section.startswith("(none)")

    @property
    def text(self) -> str:
        """The citation as printed; sections known only from memory say so."""
        if not self.section:
            return COMMON_PRACTICE
        if self.evidence.startswith("M"):
            return f"{self.section} (section from memory, verify)"
        return self.section


@lru_cache(maxsize=8)
def citations(edition: str) -> dict[str, Citation]:
    """All citations of an edition by rule key."""
    text = (files("linecalc.tables") / "citations.csv").read_text("utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return {
        row["rule_key"]: Citation(
            row["rule_key"], row["description"], row[f"nec_{edition}"], row[f"ev_{edition}"], row["note"] or ""
        )
        for row in csv.DictReader(lines)
    }


def cite(edition: str, key: str) -> Citation:
    """The citation of a rule key, with or without a ``.suffix``.

    Raises
    ------
    TableError
        The key has no row in the citation map.
    """
    found = citations(edition).get(key) or citations(edition).get(key.split(".")[0])
    if found is None:
        raise TableError(f"no citation row for rule {key}")
    return found
