"""What the dossier says, section by section, as plain data for setting."""

from asfound.dossier.account.car import about_car
from asfound.dossier.account.choice import about_choice
from asfound.dossier.account.colour import about_colour
from asfound.dossier.account.findings import about_findings
from asfound.dossier.account.gaps import about_gaps, edge_figures
from asfound.dossier.account.history import about_history, history_figures
from asfound.dossier.account.limits import about_cautions, about_unknowns
from asfound.dossier.account.metal import about_metal
from asfound.dossier.account.originality import about_originality, originality_figures
from asfound.dossier.account.polish import about_polish, wedge_figures
from asfound.dossier.account.supplies import about_supplies
from asfound.dossier.account.survey import about_survey
from asfound.dossier.account.treatments import about_treatments

__all__ = [
    "about_car",
    "about_cautions",
    "about_choice",
    "about_colour",
    "about_findings",
    "about_gaps",
    "about_history",
    "about_metal",
    "about_originality",
    "about_polish",
    "about_supplies",
    "about_survey",
    "about_treatments",
    "about_unknowns",
    "edge_figures",
    "history_figures",
    "originality_figures",
    "wedge_figures",
]
