"""The code book: tables and citations of one adopted edition."""

from linecalc.codebook.book import Book, open_book
from linecalc.codebook.citations import Citation
from linecalc.codebook.edition import EDITIONS

__all__ = ["Book", "Citation", "EDITIONS", "open_book"]
