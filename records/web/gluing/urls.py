"""Addresses of the gluing area."""

from django.urls import path

from records.web.gluing import views

app_name = "gluing"
urlpatterns = [
    path("", views.mix_list, name="mixes"),
    path("mix/", views.mix_glue, name="mix_glue"),
    path("glue-up/<str:blank>/", views.glue_up, name="glue_up"),
    path("glue-up/<str:blank>/joint/", views.close_joint, name="close_joint"),
    path("joints/<int:pk>/correct/", views.correct_joint, name="correct_joint"),
    path("<str:number>/", views.mix, name="mix"),
]
