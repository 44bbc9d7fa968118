"""Addresses of the lots area."""

from django.urls import path

from records.web.lots import sheets, suppliers, views

app_name = "lots"
urlpatterns = [
    path("", views.lot_list, name="lots"),
    path("receive/", views.receive, name="receive"),
    path("at/<str:number>/", views.lot, name="lot"),
    path("at/<str:number>/check/", views.check, name="check"),
    path("at/<str:number>/open/", views.open_container, name="open"),
    path("at/<str:number>/close/", views.close, name="close"),
    path("suppliers/", suppliers.suppliers, name="suppliers"),
    path("suppliers/add/", suppliers.add_supplier, name="add_supplier"),
    path("suppliers/<int:pk>/", suppliers.supplier, name="supplier"),
    path(
        "suppliers/<int:pk>/change/", suppliers.change_supplier, name="change_supplier"
    ),
    path("materials/", suppliers.materials, name="materials"),
    path("materials/add/", suppliers.add_material, name="add_material"),
    path("materials/<int:pk>/use/", suppliers.material_use, name="material_use"),
    path("sheets/", sheets.sheets, name="sheets"),
    path("sheets/write/", sheets.write_sheet, name="write_sheet"),
    path("sheets/<int:pk>/", sheets.sheet, name="sheet"),
]
