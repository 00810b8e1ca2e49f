"""A binder: which cards, in which order, under which headings; and what it must know of each card."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Literal, NamedTuple

from cardmaker.model.problems import NOWHERE, Places
from cardmaker.model.record_class import record, uncompared

Order = Literal["use", "width", "ends", "grade"]


class Section(NamedTuple):
    """Cards under one heading, in this order; ``text`` is read before them. Without patterns it is a page of text."""

    title: str
    text: str = ""
    patterns: tuple[str, ...] = ()  # stems or paths, as typed
    loom: str = ""  # of its cards, as typed; empty: the binder's, or the smallest at hand that holds each


@record
class Binder:
    """A binder file. Either its own sections, or all patterns ordered ``by`` something, or as they come."""

    title: str
    stem: str = ""
    about: str = ""
    credit: str = ""
    marked_as: str = ""
    by: Order | None = None
    layout: str = ""
    paper: str = ""
    loom: str = ""
    units: Literal["metric", "us"] | None = None
    duplex: bool = False
    sections: tuple[Section, ...] = ()
    places: Places = uncompared(default=NOWHERE)


class TapeFace(NamedTuple):
    """The tape's face as a small picture: one repeat, to be stamped downwards, under the name that it is drawn by."""

    name: str
    width_mm: float  # at life size
    repeat_mm: float
    alt: str


class Entry(NamedTuple):
    """A card in the binder, as contents and indexes tell of it."""

    anchor: str
    title: str
    code: str
    ends: int
    width_mm: Fraction
    colours: Mapping[str, int]  # name and ends
    purposes: tuple[str, ...]
    grade: str  # of its source, or empty
    looms: tuple[str, ...]  # titles of those at hand that hold it
    loom: str  # the one on the card
    face: TapeFace
    about: str = ""  # what the pattern's file says of it
