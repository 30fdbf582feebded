"""Assemblies as bands across the waves in which a car comes apart: where each piece lies."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.strip_layers import Layers, Tie, lay_out
from asfound.dossier.figures.strip_piece import ties_needed, words_for
from asfound.record.convert.strip import StripQuestion

SIZE = 13.0
LABEL, CELL = 168.0, 34.0
HEAD, ROOM, GAP, LINES = 34.0, 13.0, 15.0, 36.0
MOST_NAME = 140.0
_FOLDED = 46.0
_LOWEST_OPEN = 74.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """One assembly.

    Parameters
    ----------
    name : str
    pieces : tuple of str
        In the order of stripping; those that are off are not among them.
    off_n : int
    layers : Layers or None
        Its pieces by wave, or none while it is folded.
    counts : mapping of int to int
        Pieces by wave.
    waits_for : mapping of str to int
        Other assemblies that hold its pieces, with how many such joints there are.
    top, height : float
    """

    name: str
    pieces: tuple[str, ...]
    off_n: int
    layers: Layers | None
    counts: Mapping[int, int]
    waits_for: Mapping[str, int]
    top: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bands:
    """The whole drawing, before it is drawn.

    Parameters
    ----------
    bands : tuple of Band
    wave : mapping of str to int
        By piece, 0 for what can come off now.
    lefts : tuple of float
        Left edge of each wave, and the right edge of the last.
    across : tuple of Tie
        Ties between pieces of two assemblies of which one is open.
    ends : mapping of str to (float, float, float)
        For each piece, left and right end of what stands for it, and its middle from the top.
    height : float
    """

    bands: tuple[Band, ...]
    wave: Mapping[str, int]
    lefts: tuple[float, ...]
    across: tuple[Tie, ...]
    ends: Mapping[str, tuple[float, float, float]]
    height: float


def lay_bands(question: StripQuestion, *, is_open: Callable[[str], bool]) -> Bands:
    """Places of all assemblies, their waves and their ties; those that are open with names."""
    waves = question.waves
    wave = {name: i for i, names in enumerate(waves) for name in names}
    order = question.left
    ties = ties_needed(question)
    bands, top = [], HEAD
    for name, pieces in by_group(question, order).items():
        own = [t for t in ties if {t.first, t.after} <= set(pieces)]
        layers = lay_out(pieces, own, wave=_of(wave, pieces)) if is_open(name) and pieces else None
        height = max(layers.height + 2 * ROOM, _LOWEST_OPEN) if layers else _FOLDED
        bands.append(
            Band(
                name=name,
                pieces=tuple(pieces),
                off_n=sum(question.groups[n] == name for n in question.off),
                layers=layers,
                counts=Counter(wave[n] for n in pieces),
                waits_for=_waits_for(question, ties, name),
                top=top,
                height=height,
            )
        )
        top += height
    lefts = _lefts(question, bands, max(1, len(waves)))
    opened = {n for band in bands if band.layers for n in band.pieces}
    return Bands(
        bands=tuple(bands),
        wave=wave,
        lefts=lefts,
        across=tuple(t for t in ties if _goes_across(question, t, opened)),
        ends={name: at for band in bands for name, at in _ends(question, band, wave, lefts)},
        height=top,
    )


def by_group(question: StripQuestion, order: Sequence[str]) -> dict[str, list[str]]:
    """Pieces of each assembly, assemblies in the order of the register."""
    found: dict[str, list[str]] = {question.groups[n]: [] for n in question.assembly.named}
    for name in order:
        found[question.groups[name]].append(name)
    return found


def _of(wave: Mapping[str, int], pieces: Sequence[str]) -> dict[str, int]:
    return {name: wave[name] for name in pieces}


def _waits_for(question: StripQuestion, ties: Sequence[Tie], group: str) -> dict[str, int]:
    held = Counter(
        question.groups[t.first]
        for t in ties
        if question.groups[t.after] == group != question.groups[t.first]
    )
    return dict(held.most_common())


def _goes_across(question: StripQuestion, tie: Tie, opened: set[str]) -> bool:
    groups = question.groups[tie.first], question.groups[tie.after]
    return groups[0] != groups[1] and bool({tie.first, tie.after} & opened)


def named(question: StripQuestion, name: str) -> str:
    """A piece's name as wide as the drawing lets it be."""
    return words_for(question, name, size=SIZE, most=MOST_NAME)


def _lefts(question: StripQuestion, bands: Sequence[Band], waves_n: int) -> tuple[float, ...]:
    """Waves in which a name stands are as wide as the widest, with room for lines before it."""
    widths = [0.0] * waves_n
    for band in bands:
        for column in band.layers.columns if band.layers else ():
            for spot in column:
                if spot.name:
                    width = width_of(named(question, spot.name), size=SIZE)
                    widths[spot.column] = max(widths[spot.column], width)
    lefts = [LABEL]
    for width in widths:
        lefts.append(lefts[-1] + (width + LINES if width else CELL + GAP))
    return tuple(lefts)


def _ends(
    question: StripQuestion, band: Band, wave: Mapping[str, int], lefts: Sequence[float]
) -> list[tuple[str, tuple[float, float, float]]]:
    if band.layers is None:
        middle = band.top + band.height / 2
        return [(n, (lefts[wave[n]], lefts[wave[n]] + CELL, middle)) for n in band.pieces]
    down = band.top + (band.height - band.layers.height) / 2
    return [
        (
            spot.name,
            (
                lefts[spot.column],
                lefts[spot.column] + width_of(named(question, spot.name), size=SIZE),
                down + spot.y,
            ),
        )
        for column in band.layers.columns
        for spot in column
        if spot.name
    ]
