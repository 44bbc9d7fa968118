"""Address of the shop's settings."""

from django.urls import path

from records.web.shop import views

app_name = "shop"
urlpatterns = [path("", views.settings, name="shop")]
