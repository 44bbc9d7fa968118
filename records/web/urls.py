"""The addresses of the program: one area a line, in the order of the alphabet."""

from django.urls import include, path

urlpatterns = [
    path("boards/", include("records.web.boards.urls")),
    path("builds/", include("records.web.builds.urls")),
    path("", include("records.web.conformity.urls")),
    path("coupons/", include("records.web.coupons.urls")),
    path("designs/", include("records.web.designs.urls")),
    path("deviations/", include("records.web.deviations.urls")),
    path("files/", include("records.web.files.urls")),
    path("gauges/", include("records.web.gauges.urls")),
    path("gluing/", include("records.web.gluing.urls")),
    path("health/", include("records.web.health.urls")),
    path("ledger/", include("records.web.ledger.urls")),
    path("lots/", include("records.web.lots.urls")),
    path("patterns/", include("records.web.patterns.urls")),
    path("", include("records.web.people.urls")),
    path("pressing/", include("records.web.pressing.urls")),
    path("readings/", include("records.web.readings.urls")),
    path("routes/", include("records.web.routes.urls")),
    path("service/", include("records.web.service.urls")),
    path("shop/", include("records.web.shop.urls")),
    path("signoffs/", include("records.web.signoffs.urls")),
    path("", include("records.web.tags.urls")),
    path("", include("records.web.today.urls")),
    path("trace/", include("records.web.trace.urls")),
    path("trends/", include("records.web.trends.urls")),
]
