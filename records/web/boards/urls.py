"""Addresses of the boards area."""

from django.urls import path

from records.web.boards import views

app_name = "boards"
urlpatterns = [
    path("", views.board_list, name="boards"),
    path("add/", views.add, name="add"),
    path("at/<str:number>/", views.board, name="board"),
    path("at/<str:number>/inspect/", views.inspect, name="inspect"),
    path("at/<str:number>/saw/", views.saw, name="saw"),
    path("at/<str:number>/finish/", views.finish, name="finish"),
    path("at/<str:number>/reopen/", views.reopen, name="reopen"),
    path("laminations/<str:number>/", views.lamination, name="lamination"),
    path("laminations/<str:number>/void/", views.void, name="void"),
]
