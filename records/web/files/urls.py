"""Addresses of the files area."""

from django.urls import path

from records.web.files import views

app_name = "files"
urlpatterns = [
    path("<int:pk>/", views.file, name="file"),
    path("attach/<str:kind>/<str:number>/", views.attach, name="attach"),
]
