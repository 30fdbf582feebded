"""Addresses of the holds of a car."""

from django.urls import path

from asfound.desk.holds import promise, views

urlpatterns = [
    path("", views.holds, name="holds"),
    path("add/", views.add, name="add-hold"),
    path("<int:pk>/release/", views.release, name="release-hold"),
    path("<int:pk>/promise/", promise.promise, name="hold-and-promise"),
    path("<int:pk>/correct/", views.correct, name="correct-hold"),
    path("of/<path:subject>/", views.holds_of, name="holds-of"),
]
