"""Addresses of how the workshop counts money, and of what its treatments take."""

from django.urls import path

from asfound.desk.money import settings, treatments

urlpatterns = [
    path("", settings.settings, name="money-settings"),
    path("treatments/", treatments.treatments, name="treatments"),
]
