"""The addresses of the program: one area a line, in the order of the alphabet."""

from django.urls import include, path

urlpatterns = [
    path("boards/", include("records.web.boards.urls")),
    path("files/", include("records.web.files.urls")),
    path("gauges/", include("records.web.gauges.urls")),
    path("lots/", include("records.web.lots.urls")),
    path("", include("records.web.people.urls")),
    path("patterns/", include("records.web.patterns.urls")),
    path("shop/", include("records.web.shop.urls")),
    path("trace/", include("records.web.trace.urls")),
]
