"""May the person who is signed in do this today? The button says why not."""

from django.http import HttpRequest
from django.utils import timezone

from records.models import Authority, Person
from records.rules.authority import may
from records.web.shared.acts import person

READS_ONLY = "You are signed in as a reader: you look and write nothing."


def why_not(request: HttpRequest, act: Authority.Act) -> str:
    """Say why they may not decide this; "" where they may. One query."""
    findings = may(person(request), act, timezone.localdate())
    return " ".join(finding.sentence for finding in findings)


def why_not_write(request: HttpRequest) -> str:
    """Say why they may write nothing at all; "" where they may. No query."""
    return READS_ONLY if person(request).role == Person.Role.READER else ""
