"""Does the program work? Said to anybody, in JSON, without anything of the shop."""

from django.http import HttpRequest, JsonResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from records.queries import health as queries
from records.web.shared.access import public

UNAVAILABLE = 503


@public
@never_cache
@require_safe
def health(_request: HttpRequest) -> JsonResponse:
    """Say what was found; status 503 where the book can't be written."""
    json_response = queries.health()
    facts = {
        "status": "ok" if json_response.good else "failing",
        "database": json_response.database,
        "migrations": json_response.migrations,
        "guards": json_response.guards,
        "ledger_head": json_response.ledger_head,
    }
    return JsonResponse(facts, status=200 if json_response.good else UNAVAILABLE)
