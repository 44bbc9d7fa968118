"""The whole book as it stands, to see whether a request changed anything of it."""

import hashlib

from django.apps import apps
from django.db import connection

from records.models import LedgerEntry

# Counters of tries and of visits, which a refused request may move.
COUNTERS = {"records_failedcheck", "django_session"}
VISITS = {"last_login"}
# A refusal that is itself written down.
NOTED = {"refuse signature"}


def kept_models():
    """Give every model whose rows are the shop's."""
    result = apps.get_app_config("records").get_models()
    return sorted(
        (m for m in result if m._meta.db_table not in COUNTERS),
        key=lambda m: m._meta.db_table,
    )


def fingerprint():
    """Digest every column of every row: it differs when anything was changed."""
    whole = hashlib.sha256()
    for model in kept_models():
        names = [f.attname for f in model._meta.concrete_fields if f.name not in VISITS]
        rows = model._default_manager.order_by("pk").values_list(*names)
        whole.update(f"{model._meta.db_table}{list(rows)}".encode())
    return whole.hexdigest()


def counts():
    """Count the rows of every table, in one query."""
    tables = [m._meta.db_table for m in kept_models()]
    each = ", ".join(f'(SELECT COUNT(*) FROM "{table}")' for table in tables)
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT {each}")
        return dict(zip(tables, cursor.fetchone(), strict=True))


def head():
    """Give the number and digest of the ledger's last entry."""
    return LedgerEntry.objects.order_by("-sequence").values_list("sequence", "digest")[
        :1
    ].first() or (0, "")


def last_verb():
    """Say what was done last."""
    return LedgerEntry.objects.order_by("-sequence").first().verb
