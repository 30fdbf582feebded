"""The curve of a promise to keep: a picture of its own, and its numbers."""

from __future__ import annotations

import csv
import io
from datetime import datetime, time, timedelta

import numpy as np
from django.http import HttpResponse

from asfound.desk.observed.files import as_file
from asfound.dossier.figures.promise_curve import Finishes, promise_svg
from asfound.dossier.pictures import svg_as

FORMS = {"svg": "image/svg+xml", "png": "image/png", "csv": "text/csv; charset=utf-8"}
"""Kinds of file, by the end of their names; as an address has them, ``svg|png|csv``."""


def curve_file(finishes: Finishes, form: str, name: str) -> HttpResponse:
    """Curve as a file that a browser saves.

    Parameters
    ----------
    finishes : Finishes
    form : {"svg", "png", "csv"}
    name : str
        Of the file, without its end.
    """
    if form == "csv":
        data = _table(finishes)
    else:
        svg = promise_svg(finishes, theme="print")
        data = svg.encode() if form == "svg" else svg_as(svg, "png")
    return as_file(data, FORMS[form], f"{name}.{form}")


def _table(finishes: Finishes) -> bytes:
    """Chances, 0–1, with the local time by which each is reached."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("chance", "finished_by"))
    midnight = datetime.combine(finishes.first_day, time())
    chances = np.linspace(0, 1, len(finishes.curve_min))
    for chance, minutes in zip(chances, finishes.curve_min, strict=True):
        by = midnight + timedelta(minutes=round(minutes))
        writer.writerow((f"{chance:.4g}", by.isoformat(timespec="minutes")))
    return out.getvalue().encode()
