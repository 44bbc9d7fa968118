"""Addresses of the builds area: blanks and propellers."""

from django.urls import path

from records.web.builds import propellers, stack, views

app_name = "builds"
urlpatterns = [
    path("blanks/", views.blank_list, name="blanks"),
    path("blanks/plan/", views.plan, name="plan"),
    path("blanks/<str:number>/", views.blank, name="blank"),
    path("blanks/<str:number>/stack/", stack.lay, name="stack"),
    path("blanks/<str:number>/proposal/", stack.proposal, name="proposal"),
    path("blanks/<str:number>/place/<int:position>/", stack.place, name="place"),
    path("blanks/<str:number>/begin/", stack.begin, name="begin"),
    path("blanks/<str:number>/start/", propellers.start, name="start"),
    path("laminations/<str:piece>/take-out/", stack.take_out, name="take_out"),
    path("propellers/", propellers.propeller_list, name="propellers"),
    path("propellers/<str:serial>/", propellers.propeller, name="propeller"),
    path("propellers/<str:serial>/designate/", propellers.designate, name="designate"),
    path("propellers/<str:serial>/material/", propellers.material, name="material"),
    path("note/<str:kind>/<str:number>/", views.note, name="note"),
]
