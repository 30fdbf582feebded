"""Addresses of the sheet; they come before those of the cars, whose names could be these."""

from django.urls import path

from asfound.desk.sheet import outlines, tape, trace

urlpatterns = [
    path("cars/by-tape/", tape.new_car, name="new-car"),
    path("cars/<slug:slug>/sheet/", outlines.outlines, name="outlines"),
    path("cars/<slug:slug>/sheet/draw/", tape.draw_again, name="draw-again"),
    path("cars/<slug:slug>/sheet/trace/", trace.trace, name="trace"),
    path("cars/<slug:slug>/sheet/panels/<path:panel>/", outlines.outline, name="outline"),
]
