"""``asfound gaps``: how shut lines run and whether left mirrors right."""

from __future__ import annotations

from pathlib import Path

import click

from asfound.cli.app import command
from asfound.cli.show import folder_argument, indented, json_option, print_json, table
from asfound.exchange import read_folder
from asfound.measure.gaps import EdgeResult, GapResult, Run
from asfound.record.derived import gaps_reading
from asfound.record.results.gaps import edge_words, gaps_json, twin_shifts


@command()
@folder_argument
@json_option
def gaps(folder: Path, as_json: bool) -> None:
    """Say how the gaps of the car in FOLDER run, and whether left mirrors right."""
    result = gaps_reading(read_folder(folder))
    if as_json:
        print_json(gaps_json(result))
    else:
        click.echo(_in_words(result))


def _in_words(result: GapResult) -> str:
    edges = table(
        ("edge", "readings", "gap mm", "flush mm", "reading"),
        (_row(edge) for edge in result.edges),
        align="lrrrl",
    )
    pairs = []
    for twins in result.twins:
        said = [s.words for s in twin_shifts(twins.pair)] if twins.pair else [twins.refusal]
        pairs.append("\n".join([f"{twins.left} and {twins.right}:", *map(indented, said)]))
    doubt = [e.ground.edge for e in result.edges if e.readings and e.u_is_assumed]
    assumed = (
        f"\n\nThe doubt of one reading is assumed for: {', '.join(doubt)}; state it in "
        "instruments.csv."
        if doubt
        else ""
    )
    return edges + "".join(f"\n\n{words}" for words in pairs) + assumed


def _row(edge: EdgeResult) -> tuple[str, ...]:
    fit = edge.fit
    return (
        edge.ground.edge,
        str(len(edge.readings)),
        _middle(fit.gap if fit else None),
        _middle(fit.flush if fit else None),
        edge_words(edge),
    )


def _middle(run: Run | None) -> str:
    if run is None:
        return "–"
    return f"{run.middle_mm.value:.2f} ± {run.middle_mm.expanded(coverage=0.95):.2f}"
