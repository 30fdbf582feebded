"""Address of how the workshop counts money."""

from django.urls import path

from asfound.desk.money import settings

urlpatterns = [path("", settings.settings, name="money-settings")]
