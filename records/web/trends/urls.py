"""Addresses of the control charts."""

from django.urls import path

from records.web.trends import views

app_name = "trends"
urlpatterns = [
    path("", views.trends, name="trends"),
    path("<slug:stage>/<slug:code>/", views.trend, name="trend"),
]
