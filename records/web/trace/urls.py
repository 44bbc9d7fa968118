"""Addresses of the trace pages."""

from django.urls import path

from records.queries.subjects import MODELS
from records.web.trace import views

app_name = "trace"
urlpatterns = [
    path("", views.trace, name="trace"),
    path("question/", views.question, name="question"),
    path("serial/<str:number>/", views.serial, name="serial"),
    path("use/<str:kind>/<str:number>/", views.use, name="use"),
    *(
        path(f"{kind}/<str:number>/", views.went, {"kind": kind}, name=kind)
        for kind in MODELS
        if kind != "propeller"
    ),
]
