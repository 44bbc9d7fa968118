"""Addresses of the readings area."""

from django.urls import path

from records.web.readings import grid_views, views

app_name = "readings"
urlpatterns = [
    path("", views.reading_list, name="readings"),
    path("log/<str:kind>/<str:number>/", views.log, name="log"),
    path("grid/<str:serial>/<str:code>/", grid_views.grid, name="grid"),
    path("<int:pk>/", views.reading, name="reading"),
    path("<int:pk>/correct/", views.correct, name="correct"),
    path("<int:pk>/withdraw/", views.withdraw, name="withdraw"),
]
