"""Screens about designs and their revisions."""

from django.http import Http404, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Authority, Design, Revision
from records.queries.designs import (
    designs_listed,
    newest_revision,
    revision_in_whole,
    stations_of,
)
from records.services import designs
from records.web.designs import forms
from records.web.designs.pages import design_page, revision_page
from records.web.designs.tables import DesignFilter, DesignTable
from records.web.shared.permits import why_not
from records.web.shared.tables import listing
from records.web.shared.writing import write


def design_list(request: HttpRequest) -> HttpResponseBase:
    """List every design."""
    return listing(
        request,
        DesignTable,
        designs_listed(),
        filterset=DesignFilter,
        template="designs/designs.html",
        context={"why_not": _cant(request)},
    )


def design(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a design and its revisions."""
    context = design_page(_find(pk), _cant(request))
    return render(request, "designs/design.html", context)


def revision(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a revision, with what its stations come to."""
    try:
        whole_revision = revision_in_whole(pk)
    except Revision.DoesNotExist as error:
        raise Http404 from error
    newest = newest_revision(whole_revision.design) == whole_revision
    context = revision_page(whole_revision, _cant(request), newest=newest)
    return render(request, "designs/revision.html", context)


def add(request: HttpRequest) -> HttpResponse:
    """Put a propeller model in the book."""
    return write(
        request,
        forms.DesignForm(request.POST or None),
        lambda act, a: designs.add_design(act=act, **a),
        template="designs/add.html",
        then=lambda made: reverse("designs:issue", args=[made.pk]),
        said="{0} is in the book. Now its first revision.",
        context={"why_not": _cant(request)},
    )


def issue(request: HttpRequest, pk: int) -> HttpResponse:
    """Issue a revision, starting from the one before it."""
    this_design = _find(pk)
    before = newest_revision(this_design)
    form = forms.RevisionForm(
        request.POST or None,
        design=this_design,
        before=before,
        stations=stations_of(before) if before else [],
    )
    return write(
        request,
        form,
        lambda act, a: designs.issue_revision(act=act, design=this_design, **a),
        template="designs/issue.html",
        then=lambda made: reverse("designs:revision", args=[made.pk]),
        said="It is issued: {0}, frozen from now on.",
        context={"design": this_design, "before": before, "why_not": _cant(request)},
    )


def use(request: HttpRequest, pk: int) -> HttpResponse:
    """Take a design out of use, or back."""
    this_design = _find(pk)
    page = reverse("designs:design", args=[pk])
    return write(
        request,
        forms.UseForm(request.POST or None),
        lambda act, _: designs.set_design_use(
            act=act, design=this_design, in_use=not this_design.in_use
        ),
        template="designs/use.html",
        then=lambda _: page,
        said="{0} is changed.",
        context={"design": this_design, "page": page, "why_not": _cant(request)},
    )


def _cant(request: HttpRequest) -> str:
    return why_not(request, Authority.Act.MANAGE)


def _find(pk: int) -> Design:
    return get_object_or_404(Design, pk=pk)
