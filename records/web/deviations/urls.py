"""Addresses of the deviation pages."""

from django.urls import path

from records.web.deviations import actions, decisions, views

app_name = "deviations"
urlpatterns = [
    path("", views.deviation_list, name="deviations"),
    path("open/", views.open_new, name="open"),
    path("counts/", views.counts, name="counts"),
    path("holds/", decisions.holds, name="holds"),
    path("hold/", decisions.hold, name="hold"),
    path("release/<int:pk>/", decisions.release, name="release"),
    path("done/<int:pk>/", actions.done, name="done"),
    path("effect/<int:pk>/", actions.effect, name="effect"),
    path("at/<str:number>/", views.deviation, name="deviation"),
    path("at/<str:number>/add/", views.add, name="add"),
    path("at/<str:number>/cause/", views.cause, name="cause"),
    path("at/<str:number>/action/", views.act_on, name="act"),
    path("at/<str:number>/report/", views.report, name="report"),
    path("at/<str:number>/close/", views.close, name="close"),
    path("at/<str:number>/decide/", decisions.decide, name="decide"),
    path("at/<str:number>/decide/<str:kind>/", decisions.decide_as, name="decide_as"),
]
