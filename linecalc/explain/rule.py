"""One rule explained: what it asks, its section in each edition with the evidence for it, a worked line."""

from __future__ import annotations

from dataclasses import dataclass

from linecalc.codebook.citations import COMMON_PRACTICE, Citation, cite
from linecalc.codebook.edition import EDITIONS
from linecalc.explain.texts import rule_names, text_of
from linecalc.explain.worked import Worked, worked

EVIDENCE = {
    "T": "the code's own text or table read",
    "P": "read in a published article",
    "M": "from memory, verify",
    "": COMMON_PRACTICE,
}


@dataclass(frozen=True, slots=True)
class Place:
    """Where a rule stands in one edition, and how that is known."""

    edition: str
    section: str
    mark: str
    evidence: str


@dataclass(frozen=True, slots=True)
class Explanation:
    """A rule in words. ``beside`` names the other checks of the same citation key."""

    rule: str
    title: str
    asks: str
    places: tuple[Place, ...]
    note: str
    worked: Worked | None
    beside: tuple[str, ...]


def explain_rule(name: str) -> Explanation:
    """The explanation of a rule key, with or without a suffix.

    Raises
    ------
    InputError
        No rule of that name; the nearest names are given.
    """
    text = text_of(name)
    latest = cite(EDITIONS[-1], name)
    places = tuple(_place(edition, cite(edition, name)) for edition in EDITIONS)
    base = name.split(".")[0]
    beside = tuple(other for other in rule_names() if other != name and other.split(".")[0] == base)
    return Explanation(name, latest.description, text.asks, places, latest.note, worked(text), beside)


def _place(edition: str, citation: Citation) -> Place:
    mark = citation.evidence[:1]
    if not citation.section:
        return Place(edition, COMMON_PRACTICE, "", COMMON_PRACTICE)
    absent = citation.section.lower().startswith("(none")
    return Place(edition, citation.section, mark, "the edition has no such rule" if absent else EVIDENCE.get(mark, EVIDENCE["M"]))
