"""Addresses of the log of a car."""

from django.urls import path

from asfound.desk.log import views

urlpatterns = [
    path("", views.log, name="log"),
    path("<int:pk>/", views.log_line, name="log-line"),
]
