"""Address of the page that shows every part once."""

from django.urls import path

from records.web.patterns import views

app_name = "patterns"
urlpatterns = [path("", views.patterns, name="patterns")]
