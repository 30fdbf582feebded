"""Addresses of the dossier."""

from django.urls import path

from asfound.desk.dossier import views

urlpatterns = [
    path("", views.dossier, name="dossier"),
    path("<int:pk>.pdf", views.dossier_file, name="dossier-file"),
]
