"""Spots of a panel that the record knows, with the film that was read there last."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.desk.survey.readings import next_spot
from asfound.record.folder import CarFolder


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownSpot:
    """A spot with its place and what the gauge showed there last, as cells."""

    spot: str
    film_um: str
    x_mm: str
    y_mm: str
    area: str
    after_polishing: bool


def known_spots(folder: CarFolder, panel: str) -> dict[str, KnownSpot]:
    """Spots by name: film readings first, and over them the last reading after polishing."""
    found = _of_film(folder, panel)
    for row in folder.sheet("polish"):
        if row.text("panel") == panel:
            name, before = row.text("spot"), found.get(row.text("spot"))
            found[name] = KnownSpot(
                spot=name,
                film_um=row.text("after_um"),
                x_mm=row.text("x_mm") or (before.x_mm if before else ""),
                y_mm=row.text("y_mm") or (before.y_mm if before else ""),
                area=row.text("area"),
                after_polishing=True,
            )
    return found


def new_name(folder: CarFolder, panel: str) -> str:
    """Name for a spot that only polishing knows: P1, P2 and so on."""
    taken = [
        row.text("spot")
        for table in ("film", "polish")
        for row in folder.sheet(table)
        if row.text("panel") == panel
    ]
    own = [spot for spot in taken if spot.startswith("P") and spot[1:].isdigit()]
    return next_spot(own or ["P0"])


def _of_film(folder: CarFolder, panel: str) -> dict[str, KnownSpot]:
    shown: dict[str, list[float]] = {}
    places: dict[str, tuple[str, str]] = {}
    for row in folder.sheet("film"):
        if row.text("panel") == panel:
            shown.setdefault(row.text("spot"), []).append(row.number("thickness_um"))
            places[row.text("spot")] = (row.text("x_mm"), row.text("y_mm"))
    return {
        spot: KnownSpot(
            spot=spot,
            film_um=f"{round(sum(numbers) / len(numbers), 1):g}",
            x_mm=places[spot][0],
            y_mm=places[spot][1],
            area="",
            after_polishing=False,
        )
        for spot, numbers in shown.items()
    }
