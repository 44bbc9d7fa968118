"""Pieces that pages are made of, typed: an action, a fact."""

from typing import NamedTuple


class Action(NamedTuple):
    """Something to do: its words, where it leads, and why it can't be pressed."""

    label: str
    url: str
    why_not: str = ""


class Fact(NamedTuple):
    """Something to know: its label, and what is said."""

    label: str
    value: object
