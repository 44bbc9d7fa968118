"""What every printed page shares."""

import base64

from records.documents.paper import A4, LETTER, paper, size_for


def test_the_lettering_travels_inside_the_page():
    fonts = paper(title="T", shop="S")["fonts"]
    for data in fonts.values():
        start = base64.b64decode(data.removeprefix("data:font/woff2;base64,")[:8])
        assert start.startswith(b"wOF2")


def test_the_author_is_the_shop_where_nobody_is_named():
    assert paper(title="T", shop="S")["author"] == "S"
    assert paper(title="T", shop="S", author="A")["author"] == "A"


def test_the_sheet_follows_the_units_that_come_first():
    assert size_for("metric") == A4
    assert size_for("inch") == LETTER
