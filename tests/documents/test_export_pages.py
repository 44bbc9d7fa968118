"""The pages of an export: read by any browser, leading only to what is there."""

from html.parser import HTMLParser

import pytest

from records.documents.dossiers import dossiers
from records.documents.export_pages import file_place, page_name, write_pages
from tests import factories
from tests.finished import built, made  # noqa: F401

pytestmark = pytest.mark.django_db
ABOUT = {
    "shop": "Test <Airscrew> Works",
    "made_at": "2026-03-02T12:00:00+00:00",
    "sequence": 7,
    "digest": "a" * 64,
}


class Links(HTMLParser):
    """Collect where a page leads, and what it fetches by itself."""

    def __init__(self, path):
        super().__init__()
        self.found, self.fetched = [], []
        self.feed(path.read_text())

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        if tag == "a":
            self.found.append(given["href"])
        elif "src" in given or tag == "link":
            self.fetched.append(given.get("src") or given["href"])


@pytest.fixture
def folder(tmp_path):
    return tmp_path


def write(folder):
    return list(write_pages(folder, {"about": ABOUT}))


def test_every_link_leads_somewhere(made, folder):  # noqa: F811
    assert write(folder) == [made.propeller.serial]
    (folder / "README.txt").touch()  # written beside the pages
    pages = [folder / "index.html", *(folder / "propellers").iterdir()]
    assert len(pages) == 2
    for page in pages:
        links = Links(page)
        for href in [*links.found, *links.fetched]:
            if "/files/" not in href:
                assert (page.parent / href).resolve().exists(), href


def test_nothing_is_fetched_from_anywhere_else(made, folder):  # noqa: F811
    write(folder)
    for page in folder.rglob("*.html"):
        assert "http" not in page.read_text(), page
        assert all("//" not in href for href in Links(page).fetched)


def test_a_page_shows_the_whole_build(made, folder):  # noqa: F811
    write(folder)
    (page,) = (folder / "propellers").iterdir()
    text = page.read_text()
    one = next(dossiers())
    for word in (
        made.propeller.serial,
        one.made.laminations[0].board.number,
        one.made.spreads[0].mix.number,
        one.made.loaded[0].load.number,
        one.made.coupons[0].number,
        one.written.signoffs[0].printed_name,
    ):
        assert word in text
    assert text.count("<tr>") > len(one.written.readings)


def test_words_of_people_are_no_markup(shop, folder):
    factories.PropellerFactory(
        serial="<script>alert(1)</script>",
        revision__drawing="<b>C60</b>",
        blank__revision__design__model="<i>60</i>",
    )
    write(folder)
    for page in folder.rglob("*.html"):
        text = page.read_text()
        assert "<script" not in text
        assert "<b>" not in text
        assert "<i>" not in text
    assert "Test &lt;Airscrew&gt; Works" in (folder / "index.html").read_text()


@pytest.mark.parametrize("serial", ["../../evil", "a/b\\c:d", "nul\N{SNOWMAN}", "."])
def test_a_page_is_named_so_that_it_stays_in_its_folder(shop, folder, serial):
    propeller = factories.PropellerFactory(
        serial=serial, blank__revision__design__model="Another"
    )
    one = list(dossiers())[-1]
    name = page_name(one)
    assert name.endswith(f"-{propeller.pk}.html")
    assert set(name) <= set(
        "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._-"
    )


def test_a_register_of_nothing_says_so(shop, folder):
    assert [s for s in write(folder) if s != "2026-001"] == []
    assert (folder / "index.html").exists()


def test_a_file_has_the_ending_that_opens_it():
    sha256 = "ab" + "0" * 62
    assert file_place(sha256, "application/pdf") == f"files/ab/{sha256}.pdf"
    assert file_place(sha256, "image/jpeg") == f"files/ab/{sha256}.jpg"
    assert file_place(sha256, "something/else") == f"files/ab/{sha256}"
