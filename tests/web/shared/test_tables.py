"""Lists: sorted totally, 25 a page, exported without formulas."""

import csv
import datetime as dt
import io

import pytest

from records.web.shared.tables import PER_PAGE, cell
from tests import factories


# OWASP, "CSV Injection": cells that begin with = + - @ tab or return (from memory).
@pytest.mark.parametrize(
    "text", ["=1+1", "+1+cmd", "-1+cmd", "@SUM(A1)", "\t=1", "\r="]
)
def test_a_cell_that_would_be_a_formula_is_text(text):
    assert cell(text) == f"'{text}"


@pytest.mark.parametrize("text", ["-0.5", "+2", "-1E-3", "L0001", "", "a=b"])
def test_numbers_and_plain_text_stay_as_they_are(text):
    assert cell(text) == text


def test_a_moment_is_exported_in_the_shops_zone(settings):
    settings.TIME_ZONE = "America/New_York"
    at = dt.datetime(2026, 3, 4, 19, 5, tzinfo=dt.UTC)
    assert cell(at) == "2026-03-04T14:05:00-05:00"
    assert cell(None) == ""


@pytest.fixture
def names(owner):
    """Thirty people of one role, so that sorting by role alone decides nothing."""
    return {owner.name} | {factories.PersonFactory().name for _ in range(30)}


def listed(client, query=""):
    table = client.get(f"/people/{query}").context["table"]
    return [row.record.name for row in table.paginated_rows]


def test_a_page_has_25_rows_and_nothing_is_on_two_pages(signed_in, names):
    first = listed(signed_in, "?sort=role")
    second = listed(signed_in, "?sort=role&page=2")
    assert len(first) == PER_PAGE
    assert sorted(first + second) == sorted(names)


@pytest.mark.parametrize("page", ["0", "-1", "abc", "", "1e9", "٣", "9" * 30])
def test_a_page_that_is_none_shows_one_that_is(signed_in, names, page):
    assert listed(signed_in, f"?page={page}")


def test_nobody_asks_for_more_rows_than_a_page_has(signed_in, names):
    assert len(listed(signed_in, "?per_page=1000")) == PER_PAGE


@pytest.mark.parametrize("sort", ["nothing", "-", "password", "role__x", "may"])
def test_sorting_by_what_is_no_column_is_ignored(signed_in, names, sort):
    assert len(listed(signed_in, f"?sort={sort}")) == PER_PAGE


def test_export_has_every_row_and_no_formula(signed_in, names, owner):
    factories.PersonFactory(name='=HYPERLINK("x")')
    response = signed_in.get("/people/?export=csv&sort=-name")
    assert response["Content-Type"].startswith("text/csv")
    assert 'filename="people.csv"' in response["Content-Disposition"]
    text = response.getvalue().decode("utf-8-sig")
    header, *rows = csv.reader(io.StringIO(text))
    assert header[0] == "Printed name"
    assert len(rows) == len(names) + 1
    assert rows[-1][0] == '\'=HYPERLINK("x")'
