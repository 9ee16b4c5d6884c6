"""User text shows as it is: the escapes of Markdown, undone, give the text back."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from linecalc.report.wording import markdown, one_line

PRINTABLE = st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=60)


def unescaped(text):
    return re.sub(r"\\([!-/:-@\[-`{-~])", r"\1", text)


@given(PRINTABLE)
def test_escaping_loses_nothing(text):
    assert unescaped(markdown(text)) == one_line(text)


@given(PRINTABLE)
def test_no_mark_of_markdown_is_left_bare(text):
    bare = re.sub(r"\\.", "", markdown(text))
    assert not set("`*_[]<>|~#$&{}\\!") & set(bare)


@pytest.mark.parametrize("text", ["- item", "+ item", "1. item", "2) item", "# head", "> quote", "=", "---", "| a |"])
def test_a_line_never_becomes_a_list_a_heading_or_a_table(text):
    assert not re.match(r"(?:[-+*=#>|]|\d+[.)])(?:\s|$)", markdown(text))


@pytest.mark.parametrize("text", ["https://a.example", "www.a.example", "mailto:a", "see HTTP://A.example now"])
def test_an_address_is_not_made_a_link(text):
    assert not re.search(r"(?i)(https?|mailto):|www\.", markdown(text))


def test_a_word_with_a_hyphen_is_left_alone():
    assert markdown("6 AWG Cu THWN-2") == "6 AWG Cu THWN-2"


@given(PRINTABLE)
def test_one_line_is_one_line(text):
    assert len(one_line(text).splitlines()) <= 1 and one_line(one_line(text)) == one_line(text)
