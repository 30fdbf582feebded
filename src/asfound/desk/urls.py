"""Every page of the desk: one line a room."""

from django.urls import include, path

urlpatterns = [
    path("", include("asfound.desk.account.urls")),
    path("", include("asfound.desk.people.urls")),
    path("", include("asfound.desk.sheet.urls")),
    path("", include("asfound.desk.cars.urls")),
    path("", include("asfound.desk.places.urls")),
    path("", include("asfound.desk.search.urls")),
    path("", include("asfound.desk.scan.urls")),
    path("salvage/", include("asfound.desk.salvage.urls")),
    path("undo/", include("asfound.desk.undo.workshop_urls")),
    path("film-bands/", include("asfound.desk.survey.bands_urls")),
    path("cars/<slug:slug>/survey/", include("asfound.desk.survey.urls")),
    path("cars/<slug:slug>/colour/", include("asfound.desk.colour.urls")),
    path("cars/<slug:slug>/metal/", include("asfound.desk.metal.urls")),
    path("cars/<slug:slug>/polish/", include("asfound.desk.polish.urls")),
    path("cars/<slug:slug>/gaps/", include("asfound.desk.gaps.urls")),
    path("cars/<slug:slug>/history/", include("asfound.desk.history.urls")),
    path("cars/<slug:slug>/evidence/", include("asfound.desk.evidence.urls")),
    path("cars/<slug:slug>/tables/", include("asfound.desk.tables.urls")),
    path("errands/", include("asfound.desk.errands.workshop_urls")),
    path("cars/<slug:slug>/needs/", include("asfound.desk.needs.urls")),
    path("cars/<slug:slug>/errands/", include("asfound.desk.errands.urls")),
    path("cars/<slug:slug>/parts/", include("asfound.desk.parts.urls")),
    path("cars/<slug:slug>/decisions/", include("asfound.desk.decisions.urls")),
    path("cars/<slug:slug>/photos/", include("asfound.desk.photos.urls")),
    path("cars/<slug:slug>/findings/", include("asfound.desk.findings.urls")),
    path("cars/<slug:slug>/dossier/", include("asfound.desk.dossier.urls")),
    path("cars/<slug:slug>/log/", include("asfound.desk.log.urls")),
    path("cars/<slug:slug>/undo/", include("asfound.desk.undo.urls")),
]
