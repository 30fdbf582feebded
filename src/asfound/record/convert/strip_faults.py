"""What is wrong with joints and links of the rebuild, told at the rows that make it so."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from asfound.plan.strip import Assembly, Rebuild, Ring, rings_of
from asfound.record.convert.cell_fault import cell_fault
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Row


@dataclass(frozen=True, slots=True, kw_only=True)
class RowsTold:
    """How rows are told, so that the reader finds them: a file's head counts, a page's does not."""

    in_files: bool

    def number(self, row: Row) -> int:
        """The row's number."""
        return row.number_in_file - (0 if self.in_files else 1)

    def file(self, table: str) -> str:
        """What the table is called."""
        return f"{table}.csv" if self.in_files else table.replace("_", " ")


IN_FILES = RowsTold(in_files=True)
ON_PAGES = RowsTold(in_files=False)


def joined_to_itself(car: CarFolder, rows: RowsTold) -> Iterator[Fault]:
    """Rows of a piece that waits for itself."""
    for row in car.sheet("joints"):
        if row.text("part") == row.text("comes_off_after"):
            fault = cell_fault(
                rows.file("joints"),
                row,
                "comes_off_after",
                "a piece cannot come off after itself",
                "Name the piece that holds or hides it.",
            )
            yield replace(fault, row=rows.number(row))


def ring_faults(
    car: CarFolder, assembly: Assembly, built: Rebuild, rows: RowsTold
) -> Iterator[Fault]:
    """Rings of joints, each at the row to doubt first; without any, the ring of the rebuild."""
    rings = rings_of(assembly)
    for ring in rings:
        yield _of_joints(car, ring, rows)
    if built.ring and not rings:
        yield _of_rebuild(car, built.ring, rows)


def _of_joints(car: CarFolder, ring: Ring, told: RowsTold) -> Fault:
    rows = {
        (r.text("part"), r.text("comes_off_after"), r.text("way")): told.number(r)
        for r in car.sheet("joints")
    }
    numbers = [rows[j.piece, j.after, j.way] for j in ring.joints]
    doubt = rows[ring.doubt.piece, ring.doubt.after, ring.doubt.way]
    frees = f"{ring.frees_n} of {ring.stuck_n} pieces that are held come off"
    if not ring.frees_n:
        frees = "this ring is open, though another still holds its pieces"
    return Fault(
        file=told.file("joints"),
        row=doubt,
        column="part and comes_off_after",
        value=f"{ring.doubt.piece}, {ring.doubt.after}",
        rule=f"these pieces wait for each other: {_round(ring.pieces)} "
        f"(rows {', '.join(map(str, sorted(numbers)))})",
        remedy=f"Look at the rows again. Doubt row {doubt} first ({ring.doubt.piece} after "
        f"{ring.doubt.after}): without it {frees}. "
        "Take a row out, or give the piece another way.",
    )


def _of_rebuild(car: CarFolder, ring: tuple[str, ...], told: RowsTold) -> Fault:
    inside = set(ring)
    benches = {r.text("part"): r.text("bench") for r in car.sheet("removals")}
    rows = [
        row
        for row in car.sheet("rebuild_links")
        if all(
            {end, benches.get(end, "")} & inside for end in (row.text("before"), row.text("after"))
        )
    ]
    numbers = ", ".join(str(told.number(row)) for row in rows)
    last = rows[-1] if rows else None
    return Fault(
        file=told.file("rebuild_links"),
        row=told.number(last) if last else 0,
        column="before and after",
        value=f"{last.text('before')}, {last.text('after')}" if last else ", ".join(ring),
        rule=f"these pieces wait for each other when going together: {_round(ring)}"
        + (f" (rows {numbers}, and joints the other way round)" if rows else ""),
        remedy="Take a row out, or free the rebuild of a joint with binds_rebuild no.",
    )


def _round(ring: tuple[str, ...]) -> str:
    return " → ".join([*ring, ring[0]])
