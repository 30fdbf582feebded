"""A head, an owner and a small invented car."""

from __future__ import annotations

import pytest

from asfound.record.actions import create_account, load_car
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car, Person


def small_folder(**changes: object) -> CarFolder:
    sheets = {
        "car": Sheet(
            columns=("marque", "model", "body_style", "built"),
            rows=(("Orrin", "Six", "saloon", "1958~"),),
        ),
        "panels": Sheet(
            columns=("panel", "section", "substrate", "outline_wkt"),
            rows=(
                ("bonnet", "front", "steel", "POLYGON ((0 0, 9 0, 9 6, 0 6, 0 0))"),
                ("roof", "top", "aluminium", "POLYGON ((0 0, 9 0, 9 6, 0 6, 0 0))"),
            ),
        ),
        "film": Sheet(
            columns=("panel", "spot", "x_mm", "y_mm", "thickness_um"),
            rows=(
                ("bonnet", "B1", "1", "2", "140"),
                ("bonnet", "B1", "1", "2", "142.5"),
                ("roof", "R1", "3", "4", "150"),
            ),
        ),
        "options": Sheet(
            columns=("subject", "option", "treatment", "kept", "grade", "cost", "safe"),
            rows=(
                ("bonnet", "clean", "clean", "1", "2", "100", "yes"),
                ("bonnet", "refinish", "refinish", "0.25", "5", "2000", ""),
                ("roof", "leave", "leave as found", "1", "1", "0", "no"),
            ),
        ),
    }
    return CarFolder(**{"sheets": sheets, **changes})


@pytest.fixture
def car(db: None) -> Car:
    return load_car(folder=small_folder(), by=None)


@pytest.fixture
def head(db: None) -> Person:
    return create_account(username="head", role="head", password="walnut-41", by=None)


@pytest.fixture
def owner(db: None) -> Person:
    return create_account(username="owner", role="owner", password="walnut-42", by=None)
