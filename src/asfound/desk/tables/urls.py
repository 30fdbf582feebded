"""Addresses of the small tables of a car."""

from django.urls import path

from asfound.desk.tables import views

urlpatterns = [
    path("", views.tables, name="tables"),
    path("<slug:table>/", views.table, name="table"),
]
