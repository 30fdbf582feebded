"""The dossier of a car."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any

from asfound import __version__
from asfound.dossier.account import (
    about_car,
    about_cautions,
    about_choice,
    about_colour,
    about_findings,
    about_gaps,
    about_history,
    about_metal,
    about_originality,
    about_polish,
    about_supplies,
    about_survey,
    about_treatments,
    about_unknowns,
    edge_figures,
    history_figures,
    originality_figures,
    wedge_figures,
)
from asfound.dossier.account.car import currency_of
from asfound.dossier.account.colour import group_drawn
from asfound.dossier.account.metal import pictured
from asfound.dossier.account.numbered import ordered
from asfound.dossier.account.photos import Picture, about_photos, pictured_photos
from asfound.dossier.account.survey import panels_shown
from asfound.dossier.computed import Computed, Progress, compute
from asfound.dossier.condition import sheet_of_findings
from asfound.dossier.figures import front_svg, metal_svg, panel_svg, seams_svg, sheet_svg
from asfound.dossier.files import Attached, attached_files
from asfound.dossier.numbers import plain
from asfound.dossier.setting import set_pdf
from asfound.measure.base_of_films import BANDS, FilmBand
from asfound.measure.film import FilmReading
from asfound.record.convert.salvage_used import MaterialUse
from asfound.record.derived import ChoiceResult
from asfound.record.folder import CarFolder


def make_dossier(
    folder: CarFolder,
    *,
    made_on: date,
    reading: FilmReading | None = None,
    result: ChoiceResult | None = None,
    bands: Sequence[FilmBand] = BANDS,
    progress: Progress | None = None,
    log_head: str = "",
    picture: Picture | None = None,
    material: Sequence[MaterialUse] = (),
) -> bytes:
    """PDF/A-3b on a car, its results attached and all its tables but the workshop's own.

    Parameters
    ----------
    folder : CarFolder
        The car; every table of it may be missing.
    made_on : date
        Date that the dossier bears.
    reading, result : optional
        The reading of the finish and the choice, where they are at hand; computed otherwise.
    bands : sequence of FilmBand
        Published bands of film, of which those that speak of the car stand beside its reading;
        the program's own where the workshop's table is not at hand.
    progress : callable, optional
        Called with the share done, 0–1.
    log_head : str
        Hash of the last line of the log of writes, where the car lies in a record.
    picture : callable, optional
        Gives a small JPEG of a photograph, upright and without its place, by its path in the
        folder and its hash; without it photographs are listed and none is shown.
    material : sequence of MaterialUse
        What of the workshop's salvage stock went into the car, where the stock is at hand.

    Returns
    -------
    bytes
        The same car, date and head of the log give the same bytes.

    Raises
    ------
    InputError
        If a panel's placement cannot be read.

    Notes
    -----
    Observations stand apart from their interpretation, after the order that EN 16095 gives a
    condition record: identification, state, interpretation, recommendation.
    """
    tell = progress or (lambda _: None)
    computed = compute(folder, reading=reading, result=result, progress=tell)
    attached = attached_files(folder, computed)
    shown = pictured_photos(folder, picture)
    data = {
        **_data(folder, computed, attached, made_on, bands),
        "photos": about_photos(folder, shown),
        "supplies": about_supplies(folder, material),
        "log_head": log_head,
    }
    figures = dict(_figures(folder, computed))
    figures |= {f"photo-{n}.svg": one.layer for n, one in enumerate(shown) if one.layer}
    figures |= {f"photo-{n}-found.svg": one.found for n, one in enumerate(shown) if one.found}
    pdf = set_pdf(
        data,
        figures=figures,
        pictures={f"photo-{n}.jpg": one.jpeg for n, one in enumerate(shown)},
        attached=attached,
        made_on=made_on,
    )
    tell(1.0)
    return pdf


def _data(
    car: CarFolder,
    computed: Computed,
    attached: tuple[Attached, ...],
    made_on: date,
    bands: Sequence[FilmBand],
) -> dict[str, Any]:
    survey = about_survey(car, computed.reading, bands=bands) if computed.reading else None
    decided, problem = computed.decided, computed.problem
    choice = about_choice(car, problem, decided) if decided and problem else None
    return {
        "version": __version__,
        "made_on": made_on.isoformat(),
        "car": about_car(car),
        "summary": list(_summary(survey, choice)),
        "survey": survey,
        "metal": about_metal(car, computed.metal) if computed.metal else None,
        "colour": _colour(car, computed),
        "polish": about_polish(car, computed.polish) if computed.polish else None,
        "gaps": about_gaps(car, computed.gaps) if computed.gaps else None,
        "findings": _findings(car),
        "history": about_history(car, computed.history) if computed.history else None,
        "originality": _originality(car, computed),
        "choice": choice,
        "treatments": about_treatments(car),
        "cautions": about_cautions(car),
        "unknown": about_unknowns(car, computed),
        "attach": [f.told for f in attached],
        "files": [
            {"name": f.name, "what": f.what, "size": plain(len(f.data)), "sha512": f.sha512}
            for f in attached
        ],
    }


def _findings(car: CarFolder) -> dict[str, Any] | None:
    found = about_findings(car)
    if found is not None:
        found["sheet"] = bool(sheet_of_findings(car, ordered(car)))
    return found


def _colour(car: CarFolder, computed: Computed) -> dict[str, Any] | None:
    if computed.colour is None:
        return None
    return about_colour(car, computed.colour, film=computed.reading)


def _originality(car: CarFolder, computed: Computed) -> dict[str, Any] | None:
    found = computed.originality
    return about_originality(found, car) if found else None


def _figures(car: CarFolder, computed: Computed) -> Iterator[tuple[str, str]]:
    if computed.reading:
        yield "sheet.svg", sheet_svg(car, computed.reading, theme="print")
        for number, panel in enumerate(panels_shown(computed.reading)):
            svg = panel_svg(car, computed.reading, panel.panel, theme="print")
            yield f"panel-{number}.svg", svg
    if computed.metal:
        for number, found in enumerate(pictured(car, computed.metal)):
            svg = metal_svg(car, computed.metal, found.about.subject, theme="print")
            yield f"metal-{number}.svg", svg
    if computed.colour and (drawn := group_drawn(car, computed.colour)):
        yield "seams.svg", seams_svg(car, drawn, theme="print")
    if computed.polish:
        yield from wedge_figures(car, computed.polish).items()
    if computed.gaps:
        yield from edge_figures(computed.gaps).items()
    if computed.history:
        yield from history_figures(car, computed.history).items()
    if computed.originality:
        yield from originality_figures(computed.originality).items()
    if unfolded := sheet_of_findings(car, ordered(car)):
        yield "findings.svg", unfolded
    decided, problem = computed.decided, computed.problem
    if decided and problem and decided.front:
        yield (
            "front.svg",
            front_svg(
                decided.front.points,
                decided.choice,
                cost_max=problem.brief.cost_max,
                currency=currency_of(car),
                theme="print",
            ),
        )


def _summary(survey: dict[str, Any] | None, choice: dict[str, Any] | None) -> Iterator[str]:
    """What was found, in a few sentences."""
    if survey:
        yield (
            f"The finish was measured in {survey['spots_n']} spots on {survey['panels_n']} panels;"
            f" the car's level is {survey['level']} µm."
        )
        named = [f"{page['name']} ({page['words']})" for page in survey["pages"]]
        if named:
            yield f"Later work: {'; '.join(named)}."
        else:
            yield "No panel shows later work more likely than not."
    if choice and choice["possible"]:
        cost = next(row[1] for row in choice["totals"] if row[0] == "cost")
        yield (
            f"What is proposed keeps {choice['kept']} of the original fabric and costs"
            f" {cost} {choice['currency']}".rstrip()
            + "."
        )
    elif choice:
        yield "No choice satisfies the owner's brief as it stands."
