"""The addresses of the program: one area a line, in the order of the alphabet."""

from django.urls import include, path

urlpatterns = [
    path("boards/", include("records.web.boards.urls")),
    path("designs/", include("records.web.designs.urls")),
    path("files/", include("records.web.files.urls")),
    path("gauges/", include("records.web.gauges.urls")),
    path("health/", include("records.web.health.urls")),
    path("lots/", include("records.web.lots.urls")),
    path("patterns/", include("records.web.patterns.urls")),
    path("", include("records.web.people.urls")),
    path("readings/", include("records.web.readings.urls")),
    path("routes/", include("records.web.routes.urls")),
    path("shop/", include("records.web.shop.urls")),
    path("signoffs/", include("records.web.signoffs.urls")),
    path("trace/", include("records.web.trace.urls")),
]
