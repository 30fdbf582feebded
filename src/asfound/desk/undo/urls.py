"""Addresses that take back what was withdrawn."""

from django.urls import path

from asfound.desk.undo import views

urlpatterns = [
    path("<slug:kind>/<int:pk>/", views.undo, name="undo"),
]
