"""Addresses of the signoffs area."""

from django.urls import path

from records.web.signoffs import views

app_name = "signoffs"
urlpatterns = [
    path("", views.signoff_list, name="signoffs"),
    path("refused/", views.refused_list, name="refused"),
    path("<int:pk>/", views.signoff, name="signoff"),
    path("<str:kind>/<str:number>/<str:code>/", views.sign, name="sign"),
]
