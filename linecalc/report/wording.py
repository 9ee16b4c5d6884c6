"""User text made fit for an output format: plain text, Markdown."""

from __future__ import annotations

import re

_MARKDOWN = re.compile(r"([\\`*_{}\[\]<>#|~$&!])")
_LEADING = re.compile(r"^(\s*)([-+=]|\d+[.)])(?=\s|$)")
_SCHEME = re.compile(r"(?i)\b(https?|ftp|mailto|xmpp)(:)|\b(www)(\.)")


def one_line(text: str) -> str:
    """``text`` on one line, runs of white space as one space.

    Examples
    --------
    >>> one_line(" a\\n  b")
    'a b'
    """
    return " ".join(text.split())


def markdown(text: str) -> str:
    """``text`` as Markdown that shows it as it is: nothing in it is markup, a table cell or a link.

    Examples
    --------
    >>> markdown("a|b <i>`c`</i>")
    'a\\\\|b \\\\<i\\\\>\\\\`c\\\\`\\\\</i\\\\>'
    """
    escaped = _MARKDOWN.sub(r"\\\1", one_line(text))
    escaped = _SCHEME.sub(lambda found: f"{found[1] or found[3]}\\{found[2] or found[4]}", escaped)
    return _LEADING.sub(_escaped_lead, escaped)


def _escaped_lead(found: re.Match[str]) -> str:
    """A leading list or heading mark with its last character escaped."""
    return f"{found[1]}{found[2][:-1]}\\{found[2][-1]}"
