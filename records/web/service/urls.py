"""Addresses of owners, service events and notices."""

from django.urls import path

from records.web.service import notices, owners, views

app_name = "service"
urlpatterns = [
    path("", owners.owner_list, name="owners"),
    path("owners/add/", owners.add, name="add_owner"),
    path("owners/<int:pk>/", owners.owner, name="owner"),
    path("owners/<int:pk>/change/", owners.change, name="change_owner"),
    path("propeller/<str:serial>/", views.propeller, name="propeller"),
    path("propeller/<str:serial>/hand-over/", views.hand_over, name="hand_over"),
    path("propeller/<str:serial>/new-owner/", views.new_owner, name="new_owner"),
    path("propeller/<str:serial>/event/", views.event, name="event"),
    path("notices/", notices.notice_list, name="notices"),
    path("notices/issue/", notices.issue, name="issue_notice"),
    path("notices/<str:number>/", notices.notice, name="notice"),
    path("notices/<str:number>/step/", notices.step, name="step"),
]
