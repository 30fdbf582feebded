"""Addresses of scanning, counting and labels."""

from django.urls import path

from asfound.desk.scan import labels, undoing, views

urlpatterns = [
    path("scan/", views.scan, name="scan"),
    path("scan/undo/", undoing.undo_scan, name="undo-scan"),
    path("scan/what/", views.what_is, name="what-is"),
    path("places/<slug:tag>/count/", views.count, name="count-place"),
    path("places/<slug:tag>/count/close/", views.close, name="close-count"),
    path("labels/", labels.place_labels, name="place-labels"),
    path("salvage/labels/", labels.salvage_labels, name="salvage-labels"),
    path("cars/<slug:slug>/parts/labels/", labels.part_labels, name="part-labels"),
]
