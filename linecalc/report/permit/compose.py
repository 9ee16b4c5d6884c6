"""From sheets of items to PDF, through typst and the shipped template.

User text reaches the template as JSON only, never as markup.
"""

from __future__ import annotations

import json
import re
from dataclasses import asdict
from importlib.resources import as_file, files

import typst

from linecalc.caution import CAUTION
from linecalc.diagram.fonts import CAP_MIN_IN, CAP_REVIEW_IN, drawable, font_metrics, font_size_in, wrap_to
from linecalc.report.permit.items import Sheets
from linecalc.study import Study

_AS_IS = ("svg", "kind", "font", "subject", "edition", "checked", "job", "address", "people", "revisions", "lines", "rows", "columns")
#: Longest word that is kept whole, in the narrow places and elsewhere.
_NARROW = {"title": 30, "values": 30}
_WORD_MAX = 40
_LONG_WORD = re.compile(r"\S{18,}")
_BREAK_HERE = "\u200b"
_PT_PER_IN = 72.0
#: Room in the title strip, in inches; that of letter paper is the narrower one.
_JOB_IN, _PEOPLE_IN = 2.85, 3.55
Json = dict[str, "Json"] | list["Json"] | tuple["Json", ...] | str | float | int | bool | None


def pdf(study: Study, sheets: Sheets, subject: str) -> bytes:
    """The sheets as one PDF: bookmarks, searchable text, the drafting font embedded; equal sheets give equal bytes."""
    keywords = (f"NEC {study.book.edition}", study.checked_against, *dict.fromkeys(sheet.title for sheet in sheets))
    data = printable({**_job(study, subject), "keywords": keywords, "sheets": [asdict(sheet) for sheet in sheets]})
    template = (files("linecalc.report.permit") / "set.typ").read_bytes()
    with as_file(files("linecalc.diagram") / "linecalc-drafting.ttf") as font:
        return typst.compile(
            template,
            format="pdf",
            font_paths=[str(font.parent)],
            ignore_system_fonts=True,
            sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
        )


def _job(study: Study, subject: str) -> dict[str, Json]:
    """What stands on every sheet, cut to the room of the title strip."""
    info = study.project.project
    people = (("owner", info.owner), ("designer", info.designer), ("license", info.license), ("parcel", info.parcel), ("date", info.date))
    revisions = [f"rev. {found.number}, {found.date}, {found.description}" for found in info.revisions[-2:]]
    return {
        "title": info.title,
        "subject": subject,
        "author": info.designer or "",
        "job": _lines(info.title, _JOB_IN, CAP_REVIEW_IN, 2),
        "address": _lines(info.address or "", _JOB_IN, CAP_MIN_IN, 1),
        "people": _lines("; ".join(f"{word}: {text}" for word, text in people if text), _PEOPLE_IN, CAP_MIN_IN, 3),
        "revisions": [line for text in revisions for line in _lines(text, _PEOPLE_IN, CAP_MIN_IN, 1)],
        "checked": study.checked_against,
        "edition": f"NEC {study.book.edition}",
        "caution": CAUTION,
        "font": font_metrics().family,
        "em": font_size_in(1.0) * _PT_PER_IN,
        "cap": CAP_MIN_IN,
        "cap_review": CAP_REVIEW_IN,
    }


def _lines(text: str, width_in: float, cap_in: float, most: int) -> list[Json]:
    return list(wrap_to(drawable(text).text, width_in, cap_in, most))


def printable(value: Json, longest: int = _WORD_MAX) -> Json:
    """The same data with every text reduced to what the drafting font can draw; drawings as they are.

    Words longer than ``longest`` may be broken anywhere.
    """
    if isinstance(value, str):
        return _LONG_WORD.sub(lambda word: _breakable(word[0], longest), drawable(value).text)
    if isinstance(value, dict):
        return {key: found if key in _AS_IS else printable(found, _NARROW.get(key, longest)) for key, found in value.items()}
    if isinstance(value, (list, tuple)):
        return [printable(found, longest) for found in value]
    return value


def _breakable(word: str, longest: int) -> str:
    return word if len(word) <= longest else _BREAK_HERE.join(word)
