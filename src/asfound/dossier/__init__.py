"""The account of a car: figures, and the PDF with the tables attached."""

from asfound.dossier.make import make_dossier

__all__ = ["make_dossier"]
