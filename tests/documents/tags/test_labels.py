"""Every tag of a label sheet is read from the page, clean, noisy and smeared.

Sizes and error correction: ISO/IEC 18004 (quiet zone of four modules); figures of what
survives are measured, see README. Sizes of labels as sold: common practice, no source.
"""

import datetime as dt

import pytest

from records.documents.tags.labels import SHEETS, Label, draw_labels, tag_size
from tests.documents import reading

AT = dt.datetime(2026, 3, 2, 12, 0, tzinfo=dt.UTC)
MM = reading.DPI / 25.4


def label(n=1, kind="Propeller"):
    return Label(
        base_url="http://192.168.1.20:8000",
        code=f"ABCDEFGHJKMN{n:04}",
        number=f"2026-{n:03}",
        kind=kind,
        line="TA-1, revision A",
    )


def draw(labels, sheet="a4", **options):
    return draw_labels(
        labels, SHEETS[sheet], shop="Test Airscrew Works", drawn_at=AT, **options
    )


@pytest.fixture(scope="module", params=["a4", "letter", "roll"])
def printed(request):
    sheet = SHEETS[request.param]
    labels = [label(n) for n in range(1, min(sheet.places, 30) + 1)]
    return request.param, labels, draw(labels, request.param)


def test_every_tag_of_a_full_page_is_read_in_its_place(printed):
    _, labels, pdf = printed
    (page,) = reading.pages(pdf)
    assert reading.tags(page) == [one.link for one in labels]


def test_every_tag_is_read_through_noise(printed):
    _, labels, pdf = printed
    (page,) = reading.pages(pdf)
    assert reading.tags(reading.noisy(page)) == [one.link for one in labels]


@pytest.mark.parametrize("down", [0.3, 0.45, 0.55])
def test_every_tag_is_read_with_a_smear_right_across(printed, down):
    """A tenth of the height is dark over the whole width; each is held to a phone."""
    _, labels, pdf = printed
    (page,) = reading.pages(pdf)
    read = []
    for left, top, side in reading.corners(page):
        smear = [(left, top + int(down * side))]
        dirty = reading.smeared(page, smear, width_px=side, height_px=side // 10)
        edge = side // 5
        box = (left - edge, top - edge, left + side + edge, top + side + edge)
        read += reading.tags(dirty.crop(box))
    assert read == [one.link for one in labels]


def test_tags_are_20_mm_or_the_largest_that_fits_and_never_under_15(printed):
    name, labels, pdf = printed
    size = tag_size(SHEETS[name], labels[0].link)
    assert 15 <= size <= 20
    (page,) = reading.pages(pdf)
    for _, _, side in reading.corners(page):
        assert side / MM == pytest.approx(size, abs=0.6)


def test_number_and_code_stand_beside_the_tag_for_people(printed):
    _, _, pdf = printed
    text = reading.text(pdf)
    assert "2026-001" in text
    assert "ABCD EFGH JKMN 0001" in text
    assert "Test Airscrew Works" in text


def test_a_tag_under_15_mm_is_refused():
    with pytest.raises(ValueError, match="15 mm"):
        draw([label()], size_mm=14.9)


def test_a_link_too_long_for_the_label_is_refused():
    longest = "https://" + "a-long-name." * 60 + "example"
    with pytest.raises(ValueError, match="does not fit"):
        tag_size(SHEETS["letter"], longest, wanted_mm=14)


def test_copies_and_start_leave_the_used_places_free():
    pdf = draw([label(1), label(2)], copies=2, start=4)
    (page,) = reading.pages(pdf)
    assert reading.tags(page) == [label(n).link for n in (1, 1, 2, 2)]
    left, top, _ = reading.corners(page)[0]
    assert top / MM > 15.15 + 38.1  # the first row was used before
    assert left / MM < 63.5


def test_more_labels_than_a_page_holds_go_on_the_next():
    pdf = draw([label(n) for n in range(1, 31)])
    assert [len(reading.tags(p)) for p in reading.pages(pdf)] == [21, 9]


@pytest.mark.parametrize("start", [0, 22])
def test_a_place_that_is_not_on_the_sheet_is_refused(start):
    with pytest.raises(ValueError, match="places 1 to 21"):
        draw([label()], start=start)


@pytest.mark.parametrize("copies", [0, 51])
def test_a_silly_number_of_copies_is_refused(copies):
    with pytest.raises(ValueError, match="copies"):
        draw([label()], copies=copies)
