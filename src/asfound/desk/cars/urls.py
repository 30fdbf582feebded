"""Addresses of the cars."""

from django.urls import path

from asfound.desk.cars import glance, views

urlpatterns = [
    path("", views.cars, name="cars"),
    path("cars/load/", views.load, name="load-car"),
    path("cars/<slug:slug>/", views.car, name="car"),
    path("cars/<slug:slug>/finish/", glance.finish, name="car-finish"),
    path("cars/<slug:slug>/miniature/", glance.miniature, name="car-miniature"),
    path("cars/<slug:slug>/choice/", glance.choice, name="car-choice"),
    path("cars/<slug:slug>/fabric/", glance.fabric, name="car-fabric"),
    path("cars/<slug:slug>/papers/", glance.papers, name="car-papers"),
]
