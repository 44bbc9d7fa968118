"""Sheets of labels with tags, for the sizes that a shop buys."""

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final
from urllib.parse import quote

from records.documents.paper import paper
from records.documents.pdf import render_pdf
from records.documents.spelling import in_groups
from records.documents.tags.qr import LEAST_MM, USUAL_MM, qr_data_uri, qr_svg, tag_link

MARGIN_MM: Final = 1.0
MOST_COPIES: Final = 50
MOST_LABELS: Final = 600


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of labels as it is sold; lengths in millimetres."""

    name: str
    page_mm: tuple[float, float]
    label_mm: tuple[float, float]
    columns: int
    rows: int
    left_mm: float = 0
    top_mm: float = 0
    gap_mm: float = 0

    @property
    def places(self) -> int:
        """Labels on one page."""
        return self.columns * self.rows

    def corner(self, place: int) -> tuple[float, float]:
        """Give the left and top of a place, counted from 0 along the rows [mm]."""
        row, column = divmod(place, self.columns)
        width, height = self.label_mm
        return self.left_mm + column * (width + self.gap_mm), self.top_mm + row * height


@dataclass(frozen=True, slots=True)
class Label:
    """What one label says: a link for phones, and words for people."""

    base_url: str
    code: str
    number: str
    kind: str
    line: str = ""

    @property
    def link(self) -> str:
        """Spell the link in the tag."""
        return link_for(self.base_url, self.code, self.number)

    @property
    def spaced_code(self) -> str:
        """Spell the code in groups of four, to be typed."""
        return in_groups(self.code, 4)


SHEETS: Final = {
    "a4": Sheet(
        "A4, 21 labels of 63.5 by 38.1 mm",
        page_mm=(210, 297),
        label_mm=(63.5, 38.1),
        columns=3,
        rows=7,
        left_mm=7.2,
        top_mm=15.15,
        gap_mm=2.55,
    ),
    "letter": Sheet(
        "Letter, 30 labels of 2 5/8 by 1 in",
        page_mm=(215.9, 279.4),
        label_mm=(66.675, 25.4),
        columns=3,
        rows=10,
        left_mm=4.7625,
        top_mm=12.7,
        gap_mm=3.175,
    ),
    "roll": Sheet(
        "Roll, 62 by 29 mm",
        page_mm=(62, 29),
        label_mm=(62, 29),
        columns=1,
        rows=1,
    ),
}


def link_for(base_url: str, code: str, number: str) -> str:
    """Spell the link in a tag, fit for an address whatever is in the number.

    >>> link_for("http://shop.example", "ABC", "TA 1")
    'HTTP://SHOP.EXAMPLE/T/ABC/TA%201'
    """
    return tag_link(base_url, code, quote(number, safe=""))


def tag_size(sheet: Sheet, link: str, wanted_mm: float = USUAL_MM) -> float:
    """Find the size of a tag on a label: as wanted, or the largest that fits.

    Parameters
    ----------
    sheet : Sheet
        The labels.
    link : str
        What the tag carries: a longer link has more and smaller modules.
    wanted_mm : float
        Side of the symbol without its quiet zone [mm].

    Returns
    -------
    float
        Side of the symbol without its quiet zone [mm].

    Raises
    ------
    ValueError
        When less than 15 mm would be left.
    """
    room = min(sheet.label_mm) - MARGIN_MM
    size = min(wanted_mm, room / _with_quiet_zone(link))
    if size < LEAST_MM:
        raise ValueError(
            f"a tag of {LEAST_MM} mm with its quiet zone does not fit on this label; "
            f"asked for were {wanted_mm:g} mm"
        )
    return size


def draw_labels(
    labels: Sequence[Label],
    sheet: Sheet,
    *,
    shop: str,
    drawn_at: dt.datetime,
    size_mm: float = USUAL_MM,
    copies: int = 1,
    start: int = 1,
) -> bytes:
    """Draw a PDF of labels, each `copies` times, from place `start` of the sheet.

    Raises ValueError when a tag would be smaller than 15 mm, or a count is wrong.
    """
    if not 1 <= copies <= MOST_COPIES:
        raise ValueError(f"print 1 to {MOST_COPIES} copies, not {copies}")
    if not 1 <= start <= sheet.places:
        raise ValueError(f"this sheet has places 1 to {sheet.places}, not {start}")
    if not 1 <= len(labels) * copies <= MOST_LABELS:
        raise ValueError(f"print 1 to {MOST_LABELS} labels at once")
    spelled = [_spelled(label, sheet, size_mm) for label in labels]
    every = [one for one in spelled for _ in range(copies)]
    context = {
        **paper(title="Labels", shop=shop),
        "sheet": sheet,
        "pages": _pages(every, sheet, start - 1),
    }
    return render_pdf("documents/labels.html", context, drawn_at=drawn_at)


def _spelled(label: Label, sheet: Sheet, size_mm: float) -> dict[str, Any]:
    link = label.link
    size = tag_size(sheet, link, size_mm)
    return {
        "label": label,
        "image": qr_data_uri(link, size),
        "side_mm": round(size * _with_quiet_zone(link), 3),
    }


@lru_cache(maxsize=MOST_LABELS)
def _with_quiet_zone(link: str) -> float:
    """Tell how much larger a symbol is with its quiet zone than without."""
    width = re.search(r'width="([0-9.]+)mm"', qr_svg(link, USUAL_MM))
    return float(width[1]) / USUAL_MM if width else 1.0


def _pages(
    labels: list[dict[str, Any]], sheet: Sheet, skipped: int
) -> list[list[dict[str, Any]]]:
    pages: list[list[dict[str, Any]]] = []
    for index, label in enumerate(labels, start=skipped):
        page, place = divmod(index, sheet.places)
        if page == len(pages):
            pages.append([])
        left, top = sheet.corner(place)
        pages[page].append({**label, "left_mm": left, "top_mm": top})
    return pages
