"""From a request to an act: who, when, and which form."""

import uuid

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest
from django.utils import timezone

from records.models import Person
from records.services.ledger import Act


def act(request: HttpRequest) -> Act:
    """Say who acts now, and under which form's key."""
    return Act(
        by=person(request),
        at=timezone.now(),
        form_key=_key(request.POST.get("form_key", "")),
    )


def person(request: HttpRequest) -> Person:
    """Give the person who is signed in."""
    if not isinstance(request.user, Person):
        raise PermissionDenied("Sign in first.")
    return request.user


def _key(text: str) -> str:
    try:
        return str(uuid.UUID(text))
    except ValueError:
        return ""
