"""The gauges of a survey: whose line corrects which reading."""

from __future__ import annotations

from collections.abc import Mapping

from asfound.measure.film.reading import GaugeCorrection
from asfound.measure.film.survey import FilmSurvey
from asfound.measure.gauge import GaugeLine, gauge_line


def gauge_lines(survey: FilmSurvey) -> dict[str, GaugeLine]:
    """The line of every gauge that a reading of ``survey`` names, by its name.

    Notes
    -----
    Where readings and shims know one gauge between them and one of the two does not name it, it
    is the same gauge. A gauge without shim readings is taken at its word, with the assumed doubt of
    :class:`asfound.measure.gauge.GaugeDoubt`.
    """
    named = {shim.gauge for shim in survey.shims}
    read = {reading.gauge for reading in survey.readings}
    lone = next(iter(named)) if len(named) == 1 else ""
    is_unnamed = named == {""} and len(read - {""}) == 1
    lines = {}
    for gauge in sorted(read if is_unnamed else read | named):
        shims = sorted(
            (shim.nominal_um, shim.read_um)
            for shim in survey.shims
            if shim.gauge == (gauge or lone) or is_unnamed
        )
        lines[gauge] = gauge_line(
            nominal_um=[nominal for nominal, _ in shims], read_um=[read for _, read in shims]
        )
    return lines


def corrections(lines: Mapping[str, GaugeLine], *, level_um: float) -> tuple[GaugeCorrection, ...]:
    """What is told of every gauge, its doubt stated at the car's level [µm]."""
    return tuple(
        GaugeCorrection(
            gauge=gauge,
            offset_um=line.offset_um,
            slope=line.slope,
            covariance_um=line.covariance_um,
            repeatability_um=line.repeatability_um.value,
            u_um=line.correct(line.offset_um.value + line.slope.value * level_um).u,
            readings_n=line.readings_n,
        )
        for gauge, line in sorted(lines.items())
    )
