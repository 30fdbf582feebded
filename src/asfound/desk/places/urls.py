"""Addresses of the workshop's places and of labels."""

from django.urls import path

from asfound.desk.places import views

urlpatterns = [
    path("places/", views.places, name="places"),
    path("places/<slug:tag>/", views.place, name="place"),
    path("places/<slug:tag>/put/", views.put, name="put-place"),
    path("t/<slug:tag>/", views.open_tag, name="tag"),
]
