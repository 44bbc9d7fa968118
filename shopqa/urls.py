"""Where the site's addresses begin."""

from django.urls import include, path

urlpatterns = [path("", include("records.web.urls"))]
