"""No list that is exported carries a formula into a spreadsheet."""

import csv
import io

import pytest
from django.db import IntegrityError, models, transaction

from records.models.guards import remove_guards
from tests.hostile import book
from tests.hostile.driver import BACKEND
from tests.hostile.world import world
from tests.web.addresses import addresses

FORMULA = "=HYPERLINK(A1)"
# OWASP, "CSV Injection": what a cell must not begin with (from memory).
STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
READ = {"unit", "entered", "password", "pin", "body", "code", "login"}


@pytest.fixture
def made(db):
    """A shop with everything in it, and a formula in every free text of it."""
    with transaction.atomic():
        shop = world()
        remove_guards()
        for model in book.kept_models():
            for field in model._meta.concrete_fields:
                write(field)
        yield shop
        transaction.set_rollback(True)


def write(field):
    """Write the formula where the table allows it, in the one row of unique ones."""
    if not isinstance(field, models.CharField | models.TextField) or (
        field.choices or field.name in READ
    ):
        return
    text = FORMULA[: field.max_length or len(FORMULA)]
    rows = field.model._default_manager.order_by("-pk")
    chosen = rows.values("pk")[:1] if field.unique else rows.values("pk")
    try:
        with transaction.atomic():
            keys = [row["pk"] for row in chosen]
            rows.filter(pk__in=keys).update(**{field.name: text})
    except IntegrityError:
        return


def test_no_exported_cell_is_a_formula(made, client):
    client.force_login(made["act"].by, backend=BACKEND)
    exported, seen = 0, 0
    for address in addresses():
        if address.parameters:
            continue
        answer = client.get(address.path(made), {"export": "csv"})
        if answer.headers.get("Content-Type", "").startswith("text/csv"):
            exported += 1
            for cell in cells(answer):
                seen += "HYPERLINK" in cell
                assert not is_formula(cell), f"{address.name}: {cell!r}"
    assert exported >= 15, "too few lists were exported"
    assert seen >= 15, "too few cells held the formula"


def cells(answer):
    text = b"".join(answer.streaming_content).decode("utf-8-sig")
    return [cell for row in csv.reader(io.StringIO(text)) for cell in row]


def is_formula(cell):
    if not cell.startswith(STARTS):
        return False
    try:
        float(cell)
    except ValueError:
        return True
    return False
