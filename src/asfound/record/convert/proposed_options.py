"""Options that the workshop's own table offers for each piece, by its kind and its size."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from asfound.choose import LEAVES_ALONE
from asfound.record.convert.film import panels_of
from asfound.record.convert.safety import passed_tests, safety_kind
from asfound.record.folder import CarFolder, Row, Sheet
from asfound.record.tables import TABLES

HOURS = "hours_"
_MM2_A_M2 = 1e6
_PLAIN = ("treatment", "kept", "grade", "undoable", "source", "doubt")
_QUARTERS = 4
_RATES = "treatment_rates"


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposedOption:
    """A row for ``options.csv``, and what it was made from.

    Parameters
    ----------
    cells : dict of str to str
        The row.
    from_words : str
        Size and rate in words, such as "1.2 m² at the rate for panel finish (past work)".
    caution : str
        What the table warns of; empty for nothing.
    rate : dict of str to str
        The row of ``treatment_rates`` that it was made from.
    """

    cells: dict[str, str]
    from_words: str
    caution: str
    rate: dict[str, str]

    @property
    def key(self) -> tuple[str, str]:
        """Piece and option."""
        return self.cells["subject"], self.cells["option"]


def with_the_workshops(car: CarFolder, rows: Sequence[Mapping[str, str]]) -> CarFolder:
    """The car with the workshop's rows beside its own in ``treatment_rates``.

    Its own row of the same kind, option and unit stands instead of the workshop's.
    """
    own = [dict(row.cells) for row in car.sheet(_RATES)]
    known = {_key(row) for row in own}
    every = [*own, *(dict(row) for row in rows if _key(row) not in known)]
    columns = tuple(dict.fromkeys(name for row in every for name in row))
    cells = tuple(tuple(row.get(name, "") for name in columns) for row in every)
    merged = {_RATES: Sheet(columns=columns, rows=cells)}
    # Tables are looked up in turn, so that those of a stored car are still read when asked for.
    return replace(car, sheets=ChainMap(merged, car.sheets))  # type: ignore[arg-type]


def _key(row: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(row.get(name, "") for name in TABLES[_RATES].key)


def proposed_options(car: CarFolder) -> tuple[ProposedOption, ...]:
    """Options for the pieces of ``piece_sizes`` that the record does not have yet.

    Notes
    -----
    Hours and cost are the rate times the size, hours rounded to a quarter. Leaving a piece on
    which lives hang alone is offered as not safe until a test of it passed.
    """
    there = {(row.text("subject"), row.text("option")) for row in car.sheet("options")}
    return tuple(one for one in _every(car) if one.key not in there)


def as_proposed(car: CarFolder) -> tuple[ProposedOption, ...]:
    """Options of the record whose hours are still those that the table makes: nobody typed them."""
    there = {(row.text("subject"), row.text("option")): row.cells for row in car.sheet("options")}
    return tuple(one for one in _every(car) if _is_untouched(one, there.get(one.key)))


def _is_untouched(one: ProposedOption, row: Mapping[str, str] | None) -> bool:
    if row is None or row.get("learned"):
        return False
    names = ("treatment", "source", *(name for name in one.cells if name.startswith(HOURS)))
    return all(_same(row.get(name, ""), one.cells[name]) for name in names)


def _same(one: str, two: str) -> bool:
    """Whether two cells say the same, however their numbers are written."""
    try:
        return float(one or 0) == float(two or 0)
    except ValueError:
        return one == two


def _every(car: CarFolder) -> Iterator[ProposedOption]:
    """What the table offers for each piece, whether the record has it or not."""
    rates: dict[tuple[str, str], list[Row]] = {}
    for row in car.sheet(_RATES):
        rates.setdefault((row.text("kind"), row.text("unit")), []).append(row)
    passed, areas = passed_tests(car), _areas_m2(car)
    for piece, size in _sized(car, areas):
        for rate in rates.get((piece.text("kind"), piece.text("unit")), ()):
            yield _option(car, piece, rate, size, passed)


def pieces_without_rates(car: CarFolder) -> tuple[str, ...]:
    """Pieces whose kind and unit have no rate, or whose size is not known."""
    known = {(row.text("kind"), row.text("unit")) for row in car.sheet(_RATES)}
    sized = {row.text("subject") for row, _ in _sized(car, _areas_m2(car))}
    return tuple(
        row.text("subject")
        for row in car.sheet("piece_sizes")
        if row.text("subject") not in sized or (row.text("kind"), row.text("unit")) not in known
    )


def _sized(car: CarFolder, areas: dict[str, float]) -> Iterator[tuple[Row, float]]:
    for row in car.sheet("piece_sizes"):
        if row.text("size"):
            yield row, row.number("size")
        elif row.text("unit") == "each":
            yield row, 1.0
        elif row.text("unit") == "m²" and row.text("subject") in areas:
            yield row, areas[row.text("subject")]


def _areas_m2(car: CarFolder) -> dict[str, float]:
    if "panels" not in car.sheets:
        return {}
    return {panel.panel: panel.outline.area / _MM2_A_M2 for panel in panels_of(car)}


def _option(
    car: CarFolder, piece: Row, rate: Row, size: float, passed: frozenset[str]
) -> ProposedOption:
    subject, treatment = piece.text("subject"), rate.text("treatment")
    untested = treatment in LEAVES_ALONE and subject not in passed and safety_kind(car, subject)
    hours = {
        column: _written(round(rate.number(column, default=0.0) * size * _QUARTERS) / _QUARTERS)
        for column in rate.cells
        if column.startswith(HOURS)
    }
    cells = {
        "subject": subject,
        "option": rate.text("option"),
        **{column: rate.text(column) for column in _PLAIN},
        "cost": _written(round(rate.number("cost") * size, 2)),
        "safe": "no" if untested else "yes",
        **hours,
    }
    amount = f"{size:.3g} {piece.text('unit')}".replace(
        " each", " piece" if size == 1 else " pieces"
    )
    return ProposedOption(
        cells=cells,
        from_words=f"{amount} at the rate for {piece.text('kind')} ({rate.text('source')})",
        caution=rate.text("caution"),
        rate={name: cell for name, cell in rate.cells.items() if cell},
    )


def _written(value: float) -> str:
    return repr(value).removesuffix(".0")
