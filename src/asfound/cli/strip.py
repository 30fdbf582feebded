"""``asfound strip``: what comes off first, the way to a piece, and the order of rebuilding."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import click

from asfound.cli.app import command
from asfound.cli.show import folder_argument, indented, json_option, print_json, table
from asfound.craft.cautions import DEFER
from asfound.dossier.figures.strip_picture import strip_picture_svg
from asfound.exchange import read_folder
from asfound.plan.strip import Way, way_to
from asfound.record.convert.strip import StripQuestion, strip_question
from asfound.record.results.strip import strip_json


@command()
@folder_argument
@json_option
@click.option("--to", "piece", help="The part to reach with the least risk.")
@click.option(
    "--picture",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write the joints as a graph (SVG) to this file.",
)
def strip(folder: Path, as_json: bool, piece: str | None, picture: Path | None) -> None:
    """Tell in what order the car in FOLDER comes apart and goes together."""
    question = strip_question(read_folder(folder))
    way = None
    if piece is not None:
        if piece not in question.assembly.named:
            raise click.BadParameter(f"no joint names the part {piece!r}.", param_hint="--to")
        way = way_to(question.assembly, piece, off=question.off)
    if picture is not None:
        picture.write_text(strip_picture_svg(question, way=way), encoding="utf-8")
    if as_json:
        print_json(strip_json(question, way))
    else:
        click.echo("\n\n".join(_in_words(question, way)))


def _in_words(question: StripQuestion, way: Way | None) -> Iterator[str]:
    rebuild = question.rebuild
    if way is None:
        left = tuple(part for part in question.assembly.sequence if part not in question.off)
        yield "Comes off in this order:\n" + _removals(question, left)
    else:
        sure = "proved least" if way.proved else f"not proved; least is {way.risk_least:.3f}"
        yield (
            f"To reach {way.piece}, {_come_off(len(way.first_off))} first "
            f"(risk {way.risk:.3f}, {sure}):\n" + _removals(question, way.first_off)
        )
    if question.off:
        yield f"Off already:\n{indented(', '.join(sorted(question.off)))}"
    again = [r.part for r in question.removals.values() if r.on_again]
    if again:
        yield f"On again:\n{indented(', '.join(sorted(again)))}"
    if question.going_on:
        yield f"Goes on next:\n{indented(', '.join(question.going_on))}"
    for bench, parts in rebuild.benches.items():
        yield f"Made up on the bench, {bench}:\n{indented(', '.join(parts))}"
    yield f"Goes together in this order:\n{indented(', '.join(rebuild.sequence))}"
    asked = [
        f"{link.after} after {link.before}: " + ", ".join(filter(None, (link.why, link.note)))
        for link in question.links
    ]
    if asked:
        yield "Asked for by the rebuild itself:\n" + "\n".join(indented(line) for line in asked)
    new = [r.part for r in question.removals.values() if r.single_use]
    if new:
        yield f"New fixings or seals are needed for:\n{indented(', '.join(new))}"
    cautions = dict.fromkeys(c.do for r in question.removals.values() for c in r.cautions)
    if cautions:
        yield "Take care:\n" + "\n".join(indented(text) for text in (*cautions, DEFER))


def _come_off(count: int) -> str:
    return {0: "nothing comes off", 1: "1 comes off"}.get(count, f"{count} come off")


def _removals(question: StripQuestion, parts: tuple[str, ...]) -> str:
    if not parts:
        return indented("nothing")
    return table(
        ("part", "name", "risk", "people", ""),
        (
            (
                part,
                question.removals[part].name,
                f"{question.assembly.named[part].risk:.3f}",
                f"{question.removals[part].people}",
                "take care" if question.removals[part].cautions else "",
            )
            for part in parts
        ),
        align="llrrl",
    )
