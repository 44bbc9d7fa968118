"""Screens about makers' glue sheets: list, copy, read at a temperature."""

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from records.models import Authority, GlueSheet
from records.queries.gluing.mixes import sheets_in_force
from records.queries.gluing.times import table_of
from records.queries.lots import sheets_of
from records.services import lots
from records.web.lots.readout import TemperatureForm, facts_of, grid_of, read_at
from records.web.lots.sheet_forms import SheetForm
from records.web.lots.tables import SheetTable
from records.web.shared.permits import why_not
from records.web.shared.tables import listing
from records.web.shared.writing import write


def sheets(request: HttpRequest) -> HttpResponseBase:
    """List the sheets in force."""
    return listing(
        request,
        SheetTable,
        sheets_in_force(),
        template="lots/sheets.html",
        context={"why_not": why_not(request, Authority.Act.MANAGE)},
    )


def sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a sheet, and its times at the temperature asked for."""
    this_sheet = get_object_or_404(GlueSheet.objects.with_related(), pk=pk)
    table = table_of(this_sheet.pk)
    form = TemperatureForm(request.GET if "celsius" in request.GET else None)
    context = {
        "sheet": this_sheet,
        "facts": facts_of(this_sheet),
        "grid": grid_of(table),
        "form": form,
        "readout": read_at(table, form.celsius_asked()),
        "revisions": sheets_of(this_sheet.adhesive_id),
        "write_url": f"{reverse('lots:write_sheet')}?adhesive={this_sheet.adhesive_id}",
        "why_not": why_not(request, Authority.Act.MANAGE),
    }
    return render(request, "lots/sheet.html", context)


def write_sheet(request: HttpRequest) -> HttpResponse:
    """Copy a maker's table."""
    initial = {"adhesive": request.GET.get("adhesive")}
    return write(
        request,
        SheetForm(request.POST or None, initial=initial),
        lambda act, a: lots.write_glue_sheet(act=act, **a),
        template="lots/write_sheet.html",
        then=lambda sheet_written: reverse("lots:sheet", args=[sheet_written.pk]),
        said="{0} is in the book. Read it against the maker's sheet once more.",
        context={"why_not": why_not(request, Authority.Act.MANAGE)},
    )
