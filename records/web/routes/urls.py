"""Addresses of the routes area."""

from django.urls import path

from records.web.routes import editing, views

app_name = "routes"
urlpatterns = [
    path("", views.route_list, name="routes"),
    path("add/", views.add, name="add"),
    path("default/", views.write_default, name="default"),
    path("<int:pk>/", views.route, name="route"),
    path("<int:pk>/use/", views.use, name="use"),
    path("<int:pk>/stages/add/", editing.add_stage, name="add_stage"),
    path("<int:pk>/stages/<str:code>/", editing.stage, name="stage"),
    path(
        "<int:pk>/stages/<str:code>/add/",
        editing.add_characteristic,
        name="add_characteristic",
    ),
    path(
        "<int:pk>/stages/<str:code>/<str:characteristic>/",
        editing.characteristic,
        name="characteristic",
    ),
    path("revisions/<int:revision>/", views.revision, name="revision"),
    path("limits/<int:characteristic>/", views.limit, name="limit"),
]
