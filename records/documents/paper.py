"""What every printed page shares: lettering, the size of the sheet, its title block."""

import base64
from functools import cache
from typing import Any, Final

from django.conf import settings

A4: Final = "A4"
LETTER: Final = "letter"
_FONTS = {"regular": "b612.woff2", "bold": "b612-bold.woff2"}


def paper(
    *, title: str, shop: str, size: str = A4, about: str = "", author: str = ""
) -> dict[str, Any]:
    """Give a template what every page needs.

    Parameters
    ----------
    title : str
        Title of the document, in its metadata.
    shop : str
        Name of the shop, printed at the foot of each page.
    size : str
        ``A4`` or ``LETTER``.
    about : str
        What the page is about, printed at the foot: a serial and a number.
    author : str
        Who made the document; the shop where it is empty.

    Returns
    -------
    dict
        Context of a template that extends documents/paper.html.
    """
    return {
        "title": title,
        "shop_name": shop,
        "size": size,
        "about": about,
        "author": author or shop,
        "fonts": {name: _font(file) for name, file in _FONTS.items()},
    }


def size_for(units_first: str) -> str:
    """Choose the sheet: Letter where the shop thinks in inches, A4 elsewhere."""
    return LETTER if units_first == "inch" else A4


@cache
def _font(file: str) -> str:
    """Spell a font's file for a style sheet, so that nothing is fetched."""
    path = settings.ROOT / "records" / "static" / "records" / "fonts" / file
    return f"data:font/woff2;base64,{base64.b64encode(path.read_bytes()).decode()}"
