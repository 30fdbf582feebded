"""A nominal that its system does not have is told when the folder is read."""

from __future__ import annotations

from pathlib import Path

import pytest

from asfound.exchange import read_folder
from asfound.record.faults import InputFaultsError


def nominals(folder: Path, *rows: str) -> Path:
    lines = ["panel,nominal,system", *rows]
    (folder / "sheet_nominals.csv").write_text("\n".join(lines) + "\n")
    return folder


@pytest.mark.parametrize("row", ["sill,20,SWG", "sill,20,MSG", "sill,0.9,mm"])
def test_a_thickness_of_its_system_is_taken(row: str, tmp_path: Path) -> None:
    assert len(read_folder(nominals(tmp_path, row)).sheet("sheet_nominals")) == 1


@pytest.mark.parametrize(
    "row",
    ["sill,15,MSG", "sill,31,SWG", "sill,0.9,SWG", "sill,-1,mm", "sill,thin,mm", "sill,nan,mm"],
)
def test_any_other_is_a_fault_at_its_row(row: str, tmp_path: Path) -> None:
    with pytest.raises(InputFaultsError) as told:
        read_folder(nominals(tmp_path, "bonnet,18,SWG", row))
    (fault,) = told.value.faults
    assert (fault.row, fault.column) == (3, "nominal")


def test_an_empty_nominal_is_told_once(tmp_path: Path) -> None:
    with pytest.raises(InputFaultsError) as told:
        read_folder(nominals(tmp_path, "sill,,SWG"))
    assert len(told.value.faults) == 1
