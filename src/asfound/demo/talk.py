"""What was found, in plain words for a terminal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from asfound.choose import Choice
from asfound.demo.accounts import Account
from asfound.demo.findings import COST, Contested, Findings, Limit
from asfound.measure.film import FilmReading, NextSpot, PanelReading
from asfound.record.folder import CarFolder
from asfound.record.results.film import panel_words
from asfound.record.results.shop_plan import PlannedCar, PlannedShop

_SIDE = 12
"""Width of the side heads."""
_LATER = "support for later work"


def told_of_survey(car: CarFolder, reading: FilmReading) -> str:
    """The car, what its finish says, and where to measure next."""
    return _blocks(
        _block("The car", _car(car)),
        _block("The finish", _finish(reading)),
        _block("Look next", _look_next(reading.next_spots)),
    )


def told_of_choice(car: CarFolder, findings: Findings) -> str:
    """What to do with the car, what holds it back, and what could go the other way."""
    if findings.choice is None:
        clash = ["Nothing satisfies the brief; these clash:", *findings.clash]
        return _block("The choice", clash)
    currency = next((row.text("currency") for row in car.sheet("car")), "")
    return _blocks(
        _block("The choice", _choice(findings.choice, findings.limits, currency)),
        _block("Contested", _contested(findings.contested, currency)),
    )


def told_of_plan(shop: PlannedShop) -> str:
    """The day that can be promised for each car, and whether what was promised holds."""
    proof = ", proved shortest" if shop.proved else ""
    return _block(
        "The plan",
        [
            f"{len(shop.cars)} cars, {len(shop.people)} people, {len(shop.tasks)} tasks to do, "
            f"{shop.days:.0f} working days{proof}.",
            "",
            *(f"  {line}" for line in _columns([_planned(car) for car in shop.cars])),
        ],
    )


def told_of_places(places: Iterable[tuple[str, str]]) -> str:
    """Where things lie, a line each."""
    return "\n".join(_block(name, [place]) for name, place in places)


def told_of_accounts(where: str, accounts: Sequence[Account]) -> str:
    """Where the pages are and how to sign in."""
    rows = [(account.name, account.password, account.may) for account in accounts]
    head = "New passwords, set at each run of the demo:"
    return _block("Pages", [where, head, "", *(f"  {line}" for line in _columns(rows))])


def _planned(car: PlannedCar) -> tuple[str, str, str]:
    kept = "" if car.kept is None else f"{_day(car.promised)} was promised: {car.kept:.0%} sure"
    return car.title, f"by {_day(car.p80)} with 80 %", kept


def _day(day: date | None) -> str:
    return f"{day:%a} {day.day} {day:%b}" if day else ""


def _blocks(*blocks: str) -> str:
    return "\n\n".join(blocks)


def _block(head: str, lines: Sequence[str]) -> str:
    first, *rest = lines
    return "\n".join((head.ljust(_SIDE) + first, *((" " * _SIDE + line).rstrip() for line in rest)))


def _columns(rows: Sequence[Sequence[str]], *, right: Sequence[int] = ()) -> list[str]:
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(
            cell.rjust(width) if i in right else cell.ljust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def _car(car: CarFolder) -> list[str]:
    row = next(iter(car.sheet("car")))
    spots = {(r.text("panel"), r.text("spot")) for r in car.sheet("film")}
    return [
        f"{car.name}, built {row.text('built')}",
        row.text("body_style"),
        f"{len(car.sheet('panels'))} panels, {len(spots)} spots, {len(car.sheet('film'))} gauge "
        f"readings, {len(car.sheet('parts'))} parts, {len(car.sheet('options'))} options",
    ]


def _finish(reading: FilmReading) -> list[str]:
    level = reading.level_um
    later = [panel for panel in reading.panels if _speaks_for_later_work(panel)]
    later.sort(key=lambda panel: (-panel.lr_later_work, panel.panel))
    others = len(reading.panels) - len(later)
    lines = [
        f"Where it is undisturbed, the film lies at {level.value:.0f} µm; standard",
        f"uncertainty {level.u:.0f} µm. Later work, with its probability:",
        "",
    ]
    if later:
        lines += [f"  {line}" for line in _columns([_panel(panel) for panel in later])]
    else:
        lines.append("  none was found")
    return [
        *lines,
        "",
        f"The other {others} panels speak against later work, or say nothing.",
        "Thickness alone proves neither; it only speaks for or against.",
    ]


def _speaks_for_later_work(panel: PanelReading) -> bool:
    return _LATER in panel_words(panel)


def _panel(panel: PanelReading) -> tuple[str, str, str]:
    degree, _, named = panel_words(panel).partition(f" {_LATER}")
    kinds = {kind: None for kind in named.removeprefix(": ").split(" and ") if kind}
    kinds |= {area.kind: None for area in panel.areas}
    return (
        panel.panel,
        f"{panel.p_later_work:.2f}",
        f"{' and '.join(kinds) or 'kind not known'} ({degree})",
    )


def _look_next(spots: Sequence[NextSpot]) -> list[str]:
    if not spots:
        return ["nowhere: more readings would tell little"]
    rows = [
        (f"{turn}", spot.panel, f"x {spot.x_mm:.0f}", f"y {spot.y_mm:.0f} mm")
        for turn, spot in enumerate(spots[:5], start=1)
    ]
    return _columns(rows, right=(2, 3))


def _choice(choice: Choice, limits: Sequence[Limit], currency: str) -> list[str]:
    proof = "no better choice exists" if choice.proved else "not proved to be the best"
    lines = [f"Keeps {choice.kept:.1%} of the original fabric; {proof} within the brief."]
    if limits:
        lines += ["", *(f"  {line}" for line in _limits(limits, currency))]
    return lines


def _limits(limits: Sequence[Limit], currency: str) -> list[str]:
    rows = [("", "takes", "limit", "")]
    for limit in limits:
        unit = currency if limit.name == COST else "h"
        rows.append(
            (
                limit.name.replace("_", " "),
                f"{limit.taken:,.10g} {unit}",
                f"{limit.most:,.10g} {unit}",
                _held_back(limit),
            )
        )
    return _columns(rows, right=(1, 2))


def _held_back(limit: Limit) -> str:
    if limit.gain_kept < 5e-4:
        return ""
    return f"binds: without it {limit.gain_kept:.1%} more could be kept"


def _contested(pieces: Sequence[Contested], currency: str) -> list[str]:
    lines = []
    for piece in pieces:
        lines.append(f"{piece.subject}: {piece.option}")
        for other, more in ((piece.with_less, "less"), (piece.with_more, "more")):
            if other != piece.option:
                lines.append(f"  with {piece.step:,.10g} {currency} {more}: {other}")
    return lines or ["nothing: a twentieth more or less money changes no piece"]
