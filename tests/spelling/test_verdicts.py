"""Verdicts: a sign, a word, a detail."""

import re
from pathlib import Path

import pytest

from records.spelling.verdicts import SHAPES, Verdict, loud

SIGNS = Path(__file__).resolve().parents[2] / "templates/parts/shape.html"


def test_a_verdict_without_a_word_is_named_by_its_sign():
    assert Verdict("hold").word == "on hold"
    assert Verdict("no_limit").word == "no limit"
    assert Verdict("ok", "signed").word == "signed"


def test_an_unknown_sign_is_refused():
    with pytest.raises(ValueError, match="green is no sign"):
        Verdict("green")


def test_every_sign_is_drawn():
    drawn = set(re.findall(r'verdict == "(\w+)"', SIGNS.read_text()))
    assert set(SHAPES) - drawn <= {"void", "waiting"}
    assert drawn <= set(SHAPES)


def test_on_paper_what_is_not_inside_is_loud():
    assert [loud(s) for s in ("inside", "outside", "undecided", "no_limit")] == [
        *("inside", "OUTSIDE", "UNDECIDED", "no limit")
    ]
