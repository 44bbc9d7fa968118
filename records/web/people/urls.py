"""Addresses of the people area."""

from django.urls import path

from records.web.people import entrance, own, views

app_name = "people"
urlpatterns = [
    path("sign-in/", entrance.sign_in, name="sign_in"),
    path("sign-out/", entrance.sign_out, name="sign_out"),
    path("set-up/<str:token>/", entrance.set_up, name="set_up"),
    path("people/", views.people_list, name="people"),
    path("people/add/", views.add, name="add"),
    path("people/own/password/", own.own_password, name="own_password"),
    path("people/own/pin/", own.own_pin, name="own_pin"),
    path("people/devices/", own.devices, name="devices"),
    path("people/devices/<int:pk>/end/", own.end_device, name="end_device"),
    path("people/authorities/<int:pk>/end/", views.end, name="end_authority"),
    path("people/at/<str:login>/", views.person, name="person"),
    path("people/at/<str:login>/change/", views.change, name="change"),
    path("people/at/<str:login>/grant/", views.grant, name="grant"),
    path("people/at/<str:login>/password/", views.reset_password, name="reset"),
    path("people/at/<str:login>/stop/", views.stop, name="stop"),
    path("people/at/<str:login>/readmit/", views.readmit, name="readmit"),
]
