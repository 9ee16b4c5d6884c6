"""One way to write a JSON document."""

from __future__ import annotations

from typing import Any


def as_json(document: dict[str, Any]) -> str:
    """``document`` as text, the same bytes for the same content."""
    import json

    return json.dumps(document, indent=2, ensure_ascii=True)
