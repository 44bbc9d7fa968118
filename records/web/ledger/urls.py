"""Addresses of the ledger area."""

from django.urls import path

from records.web.ledger import views

app_name = "ledger"
urlpatterns = [
    path("", views.ledger, name="ledger"),
    path("heads.txt", views.heads, name="heads"),
    path("entry/<int:sequence>/", views.entry, name="entry"),
    path("entry/<int:sequence>/body.json", views.body, name="body"),
]
