"""A tag's symbol: capitals, quiet zone, version and size.

Capacities: shared/qr_capacity.csv (ISO/IEC 18004, alphanumeric mode, level H).
"""

import base64
import csv
import re
from pathlib import Path

import pytest

from records.documents.tags.qr import qr_data_uri, qr_svg, tag_link

CAPACITY = Path(__file__).parents[3] / "shared" / "qr_capacity.csv"


def modules(svg):
    return int(re.search(r'viewBox="0 0 (\d+)', svg)[1])


def rows():
    lines = [x for x in CAPACITY.read_text().splitlines() if not x.startswith("#")]
    return [r for r in csv.DictReader(lines) if r["ecc"] == "H"][:7]


@pytest.mark.parametrize("row", rows(), ids=lambda r: f"version {r['version']}")
def test_a_full_link_in_capitals_takes_the_smallest_symbol_at_level_h(row):
    most = int(row["alphanumeric"])
    assert modules(qr_svg("A" * most)) == int(row["modules"]) + 8
    assert modules(qr_svg("A" * (most + 1))) > int(row["modules"]) + 8


def test_the_size_is_that_of_the_symbol_without_its_quiet_zone():
    svg = qr_svg("HTTP://SHOP/T/ABC/1", 20)
    count = modules(svg)
    width = float(re.search(r'width="([0-9.]+)mm"', svg)[1])
    assert width == pytest.approx(20 * count / (count - 8), abs=0.001)


@pytest.mark.parametrize("size", [0, 14.99])
def test_less_than_15_mm_is_refused(size):
    with pytest.raises(ValueError, match="smaller than 15 mm"):
        qr_svg("A", size)


def test_exactly_15_mm_is_drawn():
    assert qr_svg("A", 15).startswith("<svg")


def test_a_number_that_capitals_would_change_keeps_its_letters():
    assert tag_link("http://a.example/", "ABC", "x~1") == "http://a.example/t/ABC/x~1"
    assert tag_link("http://a.example/", "ABC", "X-1") == "HTTP://A.EXAMPLE/T/ABC/X-1"


def test_the_address_is_the_same_drawing():
    data = qr_data_uri("A").removeprefix("data:image/svg+xml;base64,")
    assert base64.b64decode(data).decode() == qr_svg("A")
