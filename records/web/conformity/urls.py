"""Addresses of releases, conformity records, and the check of a paper."""

from django.urls import path

from records.web.conformity import check, papers, views

app_name = "conformity"
urlpatterns = [
    path("conformity/", views.record_list, name="records"),
    path("conformity/release/<str:serial>/", views.release, name="release"),
    path("conformity/issue/<str:serial>/", views.issue, name="issue"),
    path("conformity/record/<str:number>/", views.record, name="record"),
    path("conformity/record/<str:number>/pdf/", papers.record_pdf, name="pdf"),
    path("conformity/record/<str:number>/withdraw/", views.withdraw, name="withdraw"),
    path("conformity/build/<str:serial>/", papers.build_record, name="build_record"),
    path("check/", check.check, name="check"),
    path("check/keys/<str:name>.json", check.key, name="key"),
]
