"""Address where a proxy or a watchman asks whether the program works."""

from django.urls import path

from records.web.health import views

app_name = "health"
urlpatterns = [path("", views.health, name="health")]
