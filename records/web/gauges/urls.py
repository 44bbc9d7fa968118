"""Addresses of the gauges area."""

from django.urls import path

from records.web.gauges import views

app_name = "gauges"
urlpatterns = [
    path("", views.gauge_list, name="gauges"),
    path("add/", views.add, name="add"),
    path("at/<str:number>/", views.gauge, name="gauge"),
    path("at/<str:number>/calibrate/", views.calibrate, name="calibrate"),
    path("at/<str:number>/withdraw/", views.withdraw, name="withdraw"),
    path("at/<str:number>/return/", views.bring_back, name="return"),
    path("at/<str:number>/interval/", views.interval, name="interval"),
    path("calibrations/<int:pk>/impact/", views.impact, name="impact"),
]
