"""Screens about notices: what owners should know, and whether it reached them."""

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Authority, Notice
from records.queries.service.owners import notices_listed
from records.services.service import notices as service
from records.web.service.forms import NoticeForm, StepForm
from records.web.service.pages import notice_page
from records.web.service.tables import NoticeTable
from records.web.shared.permits import why_not, why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write


def notice_list(request: HttpRequest) -> HttpResponseBase:
    """List every notice."""
    return listing(
        request,
        NoticeTable,
        notices_listed(),
        template="service/notices.html",
        context={"why_not": why_not(request, Authority.Act.RELEASE)},
    )


def notice(request: HttpRequest, number: str) -> HttpResponse:
    """Show a notice with every serial under it."""
    context = notice_page(_find(number))
    context["why_not"] = why_not_write(request)
    return render(request, "service/notice.html", context)


def issue(request: HttpRequest) -> HttpResponse:
    """Issue a notice for exactly the serials named."""
    initial = {"serials": request.GET.get("serials", "").replace(",", "\n")}
    return write(
        request,
        NoticeForm(request.POST or None, initial=initial),
        lambda act, a: service.issue_notice(act=act, propellers=a.pop("serials"), **a),
        template="service/form.html",
        then=lambda made: reverse("service:notice", args=[made.number]),
        said="Notice {0} is issued. Send it, and note that it was sent.",
        context={
            "what": "Issue a notice",
            "back": (reverse("service:notices"), "Notices"),
            "why_not": why_not(request, Authority.Act.RELEASE),
        },
    )


def step(request: HttpRequest, number: str) -> HttpResponse:
    """Note for some serials what became of a notice."""
    this_notice = _find(number)
    page = reverse("service:notice", args=[this_notice.number])
    return write(
        request,
        StepForm(request.POST or None, notice=this_notice),
        lambda act, a: service.note_steps(act=act, **a),
        template="service/form.html",
        then=lambda _: page,
        said="Noted.",
        context={
            "what": "What became of it",
            "back": (page, f"Notice {this_notice.number}"),
            "why_not": why_not_write(request),
        },
    )


def _find(number: str) -> Notice:
    return get_object_or_404(Notice, number__iexact=number)
