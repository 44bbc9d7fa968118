"""Addresses of the designs area."""

from django.urls import path

from records.web.designs import views

app_name = "designs"
urlpatterns = [
    path("", views.design_list, name="designs"),
    path("add/", views.add, name="add"),
    path("<int:pk>/", views.design, name="design"),
    path("<int:pk>/issue/", views.issue, name="issue"),
    path("<int:pk>/use/", views.use, name="use"),
    path("revisions/<int:pk>/", views.revision, name="revision"),
]
