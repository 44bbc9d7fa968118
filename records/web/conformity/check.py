"""Whoever holds a paper may ask whether it is genuine, signed in or not."""

from typing import Any

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from records.documents.genuine import Examination, examine
from records.documents.keys import every_public_key
from records.documents.spelling import in_groups
from records.queries.conformity.register import record_by_number
from records.web.conformity.forms import CheckForm
from records.web.conformity.pages import standing
from records.web.shared.access import public
from records.web.shared.limits import is_one_too_many, too_many
from records.web.shared.uploads import Upload


@public
def check(request: HttpRequest) -> HttpResponse:
    """Check a file, or what is printed on a paper; nothing is kept."""
    if request.method == "POST" and is_one_too_many(request):
        return too_many(request)
    keys = every_public_key(settings.DATA)
    form = CheckForm(request.POST or None, request.FILES or None)
    context: dict[str, Any] = {
        "form": form,
        "keys": [(key.name, key.name[:12]) for key in keys],
    }
    status = 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            status = 200
            paper = form.cleaned_data.get("paper")
            if isinstance(paper, Upload):
                context |= _of_file(examine(paper.data, keys))
            else:
                context |= _of_print(form.cleaned_data["printed"])
    return render(request, "conformity/check.html", context, status=status)


@public
def key(request: HttpRequest, name: str) -> HttpResponse:
    """Give a public key of the shop to anybody who asks."""
    public_key = next(
        (k for k in every_public_key(settings.DATA) if k.name == name), None
    )
    if public_key is None:
        raise Http404(f"The shop has no key {name}.")
    return HttpResponse(public_key.as_json(), content_type="application/json")


def _of_file(examination: Examination) -> dict[str, Any]:
    record = record_by_number(examination.number) if examination.number else None
    known = record is not None and record.facts_digest == examination.facts_digest
    return {
        "genuine": examination.genuine,
        "sentences": [
            *examination.against,
            *(
                []
                if known or not examination.genuine
                else ["The book has no such record."]
            ),
        ],
        "about": f"{examination.number}, serial {examination.serial}"
        if examination.number
        else "",
        "standing": standing(record) if record and known else None,
        "digest": in_groups(examination.facts_digest),
    }


def _of_print(printed: str) -> dict[str, Any]:
    """Tell what the book says of a number or digest; the paper itself is not seen."""
    record = record_by_number(printed)
    if record is None:
        sentence = f"The book has no record {printed}. The paper is not this shop's."
        return {"genuine": False, "sentences": [sentence]}
    return {
        "known": True,
        "about": f"{record.number}, serial {record.propeller.serial}",
        "standing": standing(record),
        "digest": in_groups(record.facts_digest),
    }
