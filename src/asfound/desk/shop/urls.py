"""Addresses of the plan of the shop."""

from django.urls import path, re_path

from asfound.desk.shop import (
    addresses,
    adopting,
    crew,
    downloads,
    estimates,
    making,
    page,
    setbacks,
    wall,
)

urlpatterns = [
    path("", page.shop, name="shop"),
    path("making/", making.making, name="shop-making"),
    path("new/", adopting.compare, name="shop-compare"),
    path("new/adopt/", adopting.adopt, name="shop-adopt"),
    path("new/put-away/", adopting.refuse, name="shop-refuse"),
    path("came-between/", setbacks.setbacks, name="setbacks"),
    path("cars/<slug:slug>/", page.keep_car, name="shop-car"),
    path("adopted/", page.all_adopted, name="adopted-plans"),
    path("adopted/<int:pk>/", page.adopted, name="adopted-plan"),
    path("adopted/<int:pk>/again/", adopting.back_to, name="adopted-again"),
    re_path(r"^plan\.(?P<form>svg|png|pdf)$", downloads.picture, name="shop-picture"),
    re_path(
        r"^promise/(?P<slug>[-\w]+)\.(?P<form>svg|png|csv)$", downloads.curve, name="shop-curve"
    ),
    path("plan.csv", downloads.table, name="shop-csv"),
    path("plan.json", downloads.result, name="shop-json"),
    path("estimates/", estimates.estimates, name="estimates"),
    path("estimates.csv", estimates.table, name="estimates-csv"),
    path("estimates.xlsx", estimates.workbook, name="estimates-xlsx"),
    path("estimates.svg", estimates.picture, name="estimates-svg"),
    path("people-and-bays/", crew.crew, name="crew"),
    path("people-and-bays/<str:table>.csv", crew.csv, name="crew-csv"),
    path("people-and-bays/<str:table>/", crew.table, name="crew-table"),
    path("wall/", wall.wall, name="wall"),
    path("addresses/", addresses.addresses, name="plan-addresses"),
    path("addresses/<int:pk>/withdraw/", addresses.withdraw, name="withdraw-plan-address"),
    path("wall/<str:key>/", wall.wall_by_key, name="wall-by-key"),
    path("calendar/<str:key>.ics", addresses.calendar, name="plan-calendar"),
]
