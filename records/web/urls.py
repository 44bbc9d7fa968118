"""The addresses of the program: one area a line, in the order of the alphabet."""

from django.urls import include, path

urlpatterns = [
    path("", include("records.web.people.urls")),
    path("patterns/", include("records.web.patterns.urls")),
    path("shop/", include("records.web.shop.urls")),
]
