"""Addresses of the plan of the shop."""

from django.urls import path, re_path

from asfound.desk.shop import adopting, downloads, making, page, setbacks

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
    path("plan.csv", downloads.table, name="shop-csv"),
    path("plan.json", downloads.result, name="shop-json"),
]
