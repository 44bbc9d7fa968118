"""Screens about suppliers and materials."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone

from records.models import Material, Supplier
from records.queries.lots import (
    deviations_about,
    lots_listed,
    materials_listed,
    suppliers_listed,
)
from records.services import lots
from records.web.lots import forms
from records.web.lots.tables import LotTable, MaterialTable, SupplierTable
from records.web.shared.parts import Fact
from records.web.shared.permits import why_not_write
from records.web.shared.tables import listing
from records.web.shared.writing import write

CHANGING = ("address", "contact", "note", "in_use")


def suppliers(request: HttpRequest) -> HttpResponseBase:
    """List suppliers."""
    return listing(
        request,
        SupplierTable,
        suppliers_listed(),
        template="lots/suppliers.html",
        context={"why_not": why_not_write(request)},
    )


def supplier(request: HttpRequest, pk: int) -> HttpResponseBase:
    """Show a supplier with what they sent."""
    supplier_row: Any = get_object_or_404(suppliers_listed(), pk=pk)
    facts = [
        *(fact for fact in _contact(supplier_row) if fact[1]),
        ("Lots received", str(supplier_row.received)),
        ("Of these refused or returned", str(supplier_row.refused)),
    ]
    deviations = list(deviations_about(supplier_row))
    return listing(
        request,
        LotTable,
        lots_listed(timezone.localdate()).filter(supplier=supplier_row),
        template="lots/supplier.html",
        context={
            "supplier": supplier_row,
            "facts": facts,
            "deviations": deviations,
            "why_not": why_not_write(request),
        },
    )


def _contact(supplier: Supplier) -> list[Fact]:
    return [
        Fact("Address", supplier.address),
        Fact("Telephone or e-mail", supplier.contact),
        Fact("Note", supplier.note),
    ]


def add_supplier(request: HttpRequest) -> HttpResponse:
    """Add a supplier."""
    return write(
        request,
        forms.SupplierForm(request.POST or None),
        lambda act, a: lots.add_supplier(act=act, **a),
        template="lots/add.html",
        then=lambda added: reverse("lots:supplier", args=[added.pk]),
        said="{0} is in the book.",
        context={
            "what": "Add a supplier",
            "over": ("Suppliers", reverse("lots:suppliers")),
            "why_not": why_not_write(request),
        },
    )


def change_supplier(request: HttpRequest, pk: int) -> HttpResponse:
    """Change what is known of a supplier."""
    this_supplier = get_object_or_404(Supplier, pk=pk)
    page = reverse("lots:supplier", args=[pk])
    initial = {name: getattr(this_supplier, name) for name in CHANGING}
    return write(
        request,
        forms.SupplierChangeForm(request.POST or None, initial=initial),
        lambda act, a: lots.change_supplier(act=act, supplier=this_supplier, **a),
        template="lots/add.html",
        then=lambda _: page,
        said="Changed.",
        context={
            "what": f"Change {this_supplier}",
            "over": (this_supplier.name, page),
            "why_not": why_not_write(request),
        },
    )


def materials(request: HttpRequest) -> HttpResponseBase:
    """List materials."""
    return listing(
        request,
        MaterialTable,
        materials_listed(),
        template="lots/materials.html",
        context={"why_not": why_not_write(request)},
    )


def add_material(request: HttpRequest) -> HttpResponse:
    """Add a species or a product."""
    return write(
        request,
        forms.MaterialForm(request.POST or None),
        lambda act, a: lots.add_material(act=act, **a),
        template="lots/add.html",
        then=lambda _: reverse("lots:materials"),
        said="{0} is in the book.",
        context={
            "what": "Add a material",
            "over": ("Materials", reverse("lots:materials")),
            "why_not": why_not_write(request),
        },
    )


def material_use(request: HttpRequest, pk: int) -> HttpResponse:
    """Say whether the shop works with a material."""
    material = get_object_or_404(Material, pk=pk)
    form = forms.UseForm(request.POST or None, initial={"in_use": material.in_use})
    return write(
        request,
        form,
        lambda act, a: lots.set_material_use(act=act, material=material, **a),
        template="lots/add.html",
        then=lambda _: reverse("lots:materials"),
        said="Changed.",
        context={
            "what": material.name,
            "over": ("Materials", reverse("lots:materials")),
            "why_not": why_not_write(request),
        },
    )
