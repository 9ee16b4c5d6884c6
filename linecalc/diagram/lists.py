"""Set many short texts beside each other: in columns read downwards, or one after the other."""

from __future__ import annotations

from linecalc.diagram.fonts import text_width_in, wrap

_COLUMN_GAP_IN = 0.2
#: More lines than this, and texts run on one after the other instead.
_LINES_MAX = 15
_COLUMNS_MAX = 6
_BETWEEN = ";"


def in_columns(texts: tuple[str, ...], width: float, cap_in: float) -> tuple[tuple[float, tuple[str, ...]], ...]:
    """Each column's distance from the left with its lines, as many columns as find room; none where they get too long.

    Lengths in inches.
    """
    for count in range(min(_COLUMNS_MAX, len(texts)), 0, -1):
        lines = -(-len(texts) // count)
        if lines > _LINES_MAX:
            return ()
        columns = [texts[start : start + lines] for start in range(0, len(texts), lines)]
        widths = [max(text_width_in(text, cap_in) for text in column) + _COLUMN_GAP_IN for column in columns]
        if sum(widths) - _COLUMN_GAP_IN <= width:
            return tuple((sum(widths[:number]), column) for number, column in enumerate(columns))
    return ()


def run_on(texts: tuple[str, ...], width: float, cap_in: float) -> tuple[str, ...]:
    """Lines no wider than *width* inches, broken between two texts wherever these are not too long themselves."""
    lines: list[str] = []
    for number, text in enumerate(texts):
        said = text + (_BETWEEN if number + 1 < len(texts) else "")
        longer = f"{lines[-1]} {said}" if lines else said
        if lines and text_width_in(longer, cap_in) <= width:
            lines[-1] = longer
        else:
            lines.extend(wrap(said, width, cap_in))
    return tuple(lines)
