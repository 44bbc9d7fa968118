"""Address of the first page."""

from django.urls import path

from records.web.today import views

app_name = "today"
urlpatterns = [path("", views.today, name="today")]
