"""Addresses of the coupons area."""

from django.urls import path

from records.web.coupons import views

app_name = "coupons"
urlpatterns = [
    path("", views.coupon_list, name="coupons"),
    path("make/", views.make, name="make"),
    path("<str:number>/", views.coupon, name="coupon"),
    path("<str:number>/test/", views.test, name="test"),
]
