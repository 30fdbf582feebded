"""Addresses of the plan of a car."""

from django.urls import path, re_path

from asfound.desk.plan import came_off, downloads, making, on_again, page, strip, strip_piece

urlpatterns = [
    path("", page.plan, name="plan"),
    path("made/", page.made, name="plan-made"),
    path("make-tasks/", making.make, name="make-tasks"),
    path("plan.json", downloads.json, name="plan-json"),
    re_path(r"^bars\.(?P<form>svg|png|pdf)$", downloads.bars, name="plan-picture"),
    re_path(r"^promise\.(?P<form>svg|png|csv)$", downloads.curve, name="plan-curve"),
    path("strip/", strip.strip, name="strip"),
    path("strip/came-off/", came_off.enter, name="came-off"),
    path("strip/on-again/", on_again.enter, name="on-again"),
    path("strip/of/<path:part>/", strip_piece.piece, name="strip-piece"),
    re_path(r"^strip\.(?P<form>svg|png|pdf)$", strip.picture, name="strip-picture"),
    path("strip.csv", downloads.strip_table, name="strip-csv"),
    path("rebuild.csv", downloads.rebuild_table, name="rebuild-csv"),
    path("strip.xlsx", downloads.strip_workbook, name="strip-xlsx"),
]
