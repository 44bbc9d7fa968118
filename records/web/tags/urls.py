"""Addresses of tags: what a scan opens, the box to type in, labels, travel cards."""

from django.urls import path

from records.web.tags import cards, labels, views

app_name = "tags"
urlpatterns = [
    path("t/<str:code>/<path:number>", views.tag, name="tag"),
    # A tag is printed in capitals, which gives a smaller symbol.
    path("T/<str:code>/<path:number>", views.tag, name="tag_in_capitals"),
    path("scan/", views.scan, name="scan"),
    path("serial/", views.lookup, name="lookup"),
    path("tags/labels/", labels.choose, name="labels"),
    path("tags/labels/print/", labels.print_labels, name="print_labels"),
    path("tags/card/<str:kind>/<str:number>/", cards.card, name="card"),
    path("tags/card/<str:kind>/<str:number>/pdf/", cards.card_pdf, name="card_pdf"),
]
