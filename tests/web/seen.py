"""What somebody sees of a page, and how many queries it took to make it."""

import html
import re

from django.db import connection
from django.test.utils import CaptureQueriesContext


def text_of(answer):
    """Give the words of a page's sheet, without tags and menus."""
    sheet = answer.content.decode().split("<main", 1)[1].split(">", 1)[1]
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", sheet)).split())


def queries_of(client, path):
    """Open a page, see that it opens, and count its queries."""
    with CaptureQueriesContext(connection) as made:
        answer = client.get(path)
    assert answer.status_code == 200, path
    return len(made)


def said(answer):
    """Give shape and word of the verdict that a page shows."""
    verdict = answer.context["verdict"]
    return verdict.shape, verdict.word
