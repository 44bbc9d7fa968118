"""Where the trace of each thing is shown."""

from django.db.models import Model
from django.urls import reverse

from records.queries.subjects import kind_of, number_of


def trace_page(thing: Model) -> str:
    """Give the path of a serial's history, or of where a material went."""
    kind = kind_of(thing)
    name = "serial" if kind == "propeller" else kind
    return reverse(f"trace:{name}", args=[number_of(thing)])
