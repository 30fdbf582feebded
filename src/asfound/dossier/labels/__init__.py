"""Labels for parts and places, as a PDF to print."""

from asfound.dossier.labels.paper import LABELS, Grid, Label, Paper, Roll
from asfound.dossier.labels.sheet import labels_pdf

__all__ = ["LABELS", "Grid", "Label", "Paper", "Roll", "labels_pdf"]
