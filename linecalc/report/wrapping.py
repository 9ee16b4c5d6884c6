"""Lines of plain text of at most the width of a terminal."""

from __future__ import annotations

import textwrap

WIDTH = 92


def wrapped(text: str, first: str = "", rest: str = "") -> list[str]:
    """``text`` in lines of at most 92 characters; long words are left whole."""
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
    ) or [first.rstrip()]
