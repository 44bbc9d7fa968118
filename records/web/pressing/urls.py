"""Addresses of the pressing area."""

from django.urls import path

from records.web.pressing import presses, views

app_name = "pressing"
urlpatterns = [
    path("", views.load_list, name="loads"),
    path("load/", views.load_press, name="load_press"),
    path("presses/", presses.press_list, name="presses"),
    path("presses/add/", presses.add, name="add_press"),
    path("presses/<int:pk>/use/", presses.in_use, name="press_in_use"),
    path("samples/<int:pk>/correct/", views.correct_sample, name="correct_sample"),
    path("<str:number>/", views.load, name="load"),
    path("<str:number>/samples/", views.sample_list, name="samples"),
    path("<str:number>/sample/", views.add_sample, name="add_sample"),
    path("<str:number>/import/", views.import_samples, name="import_samples"),
    path("<str:number>/open/", views.open_press, name="open_press"),
]
