"""The text of a PDF page with its place, as a reader of the page would measure it."""

from __future__ import annotations

import io
from dataclasses import dataclass

import pypdf

from linecalc.diagram.fonts import font_size_in, text_width_in

PT_PER_IN = 72.0


@dataclass(frozen=True)
class Piece:
    """Text of one run: its baseline's left end and its font size, in points from the lower left corner of the page."""

    x: float
    y: float
    size: float
    text: str

    @property
    def cap_in(self):
        return self.size / PT_PER_IN / font_size_in(1.0)

    @property
    def right(self):
        return self.x + text_width_in(self.text, self.cap_in) * PT_PER_IN


@dataclass(frozen=True)
class Page:
    """One page: all of its text without white space, and the runs in it."""

    text: str
    pieces: tuple[Piece, ...]
    width: float
    height: float


def reader(data):
    return pypdf.PdfReader(io.BytesIO(data))


def squeezed(text):
    """Without white space, and without the places where a long word may be broken: lines end anywhere."""
    return "".join(text.replace("\u200b", "").split())


def pages_of(data, width_pt=None):
    """Every page of a PDF, or those of one width."""
    return tuple(_page(page) for page in reader(data).pages if width_pt in (None, float(page.mediabox.width)))


def _page(page):
    pieces = []

    def visit(text, matrix, text_matrix, _, size):
        shown = text.strip("\n").replace("\u200b", "")
        shown = shown if shown.startswith("  ") else shown.lstrip()  # one space is the reader's own
        if shown.strip():
            x = matrix[0] * text_matrix[4] + matrix[2] * text_matrix[5] + matrix[4]
            y = matrix[1] * text_matrix[4] + matrix[3] * text_matrix[5] + matrix[5]
            pieces.append(Piece(x, y, size * abs(matrix[0]), shown))

    text = page.extract_text(visitor_text=visit)
    return Page(squeezed(text), tuple(pieces), float(page.mediabox.width), float(page.mediabox.height))


def outside(page, margin_pt):
    """Runs that do not lie within the page less a margin."""
    return [
        piece for piece in page.pieces
        if not (margin_pt <= piece.x and piece.right <= page.width - margin_pt and margin_pt <= piece.y <= page.height - margin_pt)
    ]  # fmt: skip


def overlapping(page):
    """Pairs of runs, one drawn over the other."""
    pieces = sorted(page.pieces, key=lambda piece: piece.y)
    return [
        (one.text, other.text)
        for at, one in enumerate(pieces)
        for other in pieces[at + 1 : at + 40]
        if other.y - one.y < 0.9 * PT_PER_IN * one.cap_in and min(one.right, other.right) - max(one.x, other.x) > 1.5
    ]
