"""Addresses that take back what was withdrawn of the things that all cars share."""

from django.urls import path

from asfound.desk.undo import workshop

urlpatterns = [
    path("<slug:kind>/<int:pk>/", workshop.undo_workshop, name="undo-workshop"),
]
