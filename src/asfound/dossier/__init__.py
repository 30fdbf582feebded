"""The account of a car: figures, and the PDF with the tables attached."""

from asfound.dossier.condition import Shown, about_condition, make_condition_report
from asfound.dossier.make import make_dossier

__all__ = ["Shown", "about_condition", "make_condition_report", "make_dossier"]
