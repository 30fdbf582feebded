"""A small car of an invented marque for tests of the pages: every number is made up."""

from __future__ import annotations

from asfound.record.folder import CarFolder, Sheet

_CAR = Sheet(
    columns=("marque", "model", "body_style", "built", "registration", "currency", "note"),
    rows=(("Orvelle", "Tansy", "open four-seater", "1957", "KV 417", "EUR", "Made up."),),
)
_PANELS = Sheet(
    columns=("panel", "section", "substrate", "outline_wkt"),
    rows=(
        ("bonnet", "front", "aluminium", "POLYGON ((0 0, 1000 0, 1000 800, 0 800, 0 0))"),
        ("door left", "left", "steel", "POLYGON ((0 0, 900 0, 900 600, 0 600, 0 0))"),
        ("scuttle", "top", "steel", "POLYGON ((0 0, 1200 0, 1200 200, 0 200, 0 0))"),
    ),
)
_IDENTIFIERS = Sheet(
    columns=("kind", "text_as_read", "method", "where", "expected", "expected_source"),
    rows=(
        ("chassis", "OT 2417 9", "stamped", "left longeron", "OT 2417 8", "works card"),
        ("engine", "E 88120", "cast", "block, left", "", ""),
    ),
)


def _film() -> Sheet:
    """An even film of about 500 µm on two panels, with one thick corner on the door."""
    rows = []
    for panel, width, height in (("bonnet", 1000, 800), ("door left", 900, 600)):
        for i, share in enumerate((0.15, 0.4, 0.65, 0.9)):
            for j, down in enumerate((0.25, 0.75)):
                thick = 260 if panel == "door left" and share > 0.6 and down > 0.5 else 0
                for k in range(3):
                    wobble = ((i * 7 + j * 5 + k * 3) % 11) - 5
                    rows.append(
                        (
                            panel,
                            f"{panel[0].upper()}{i * 2 + j + 1}",
                            f"{width * share:g}",
                            f"{height * down:g}",
                            f"{500 + thick + wobble * 2}",
                            "gauge A",
                            "2026-05-12T10:02",
                            "trimmer",
                        )
                    )
    columns = ("panel", "spot", "x_mm", "y_mm", "thickness_um", "gauge", "taken_at", "by")
    return Sheet(columns=columns, rows=tuple(rows))


_SHIMS = Sheet(
    columns=("gauge", "nominal_um", "read_um"),
    rows=tuple(
        ("gauge A", str(nominal), str(nominal + 2 + turn))
        for nominal in (0, 250, 500, 1000)
        for turn in (-1, 0, 1)
    ),
)
_OPTIONS = Sheet(
    columns=(
        "subject",
        "option",
        "treatment",
        "kept",
        "grade",
        "cost",
        "safe",
        "undoable",
        "hours_mechanic",
        "hours_trimmer",
    ),
    rows=(
        ("seats", "leave", "leave as found", "1", "1", "0", "yes", "yes", "0", "0"),
        ("seats", "mend", "repair", "0.9", "3", "400", "yes", "partly", "0", "12"),
        ("seats", "renew", "replace with new", "0", "5", "300", "yes", "no", "0", "8"),
        ("brakes", "leave", "leave as found", "1", "1", "0", "no", "yes", "0", "0"),
        ("brakes", "overhaul", "overhaul", "0.7", "4", "500", "yes", "no", "14", "0"),
        ("brakes", "renew", "replace with new", "0.1", "5", "350", "yes", "no", "8", "0"),
        ("door finish", "keep", "stabilise", "0.95", "3", "250", "yes", "partly", "0", "6"),
        ("door finish", "paint", "refinish", "0.1", "5", "600", "yes", "no", "0", "0"),
    ),
)
_SUBJECTS = Sheet(
    columns=("subject", "weight", "min_grade", "zone", "locked_option"),
    rows=(
        ("seats", "3", "2", "inside", ""),
        ("brakes", "1", "3", "running gear", ""),
        ("door finish", "2", "2", "outside", ""),
    ),
)
_BRIEF = {
    "name": "Keep what is there",
    "cost_max": 1150,
    "hours_max": {"mechanic": 20, "trimmer": 30},
    "min_grade": {"inside": 2},
    "note": "Made up.",
}


def small_car() -> CarFolder:
    """The car: three panels of which two are measured, three pieces, a brief that binds."""
    return CarFolder(
        sheets={
            "car": _CAR,
            "identifiers": _IDENTIFIERS,
            "panels": _PANELS,
            "film": _film(),
            "shims": _SHIMS,
            "options": _OPTIONS,
            "subjects": _SUBJECTS,
        },
        brief=_BRIEF,
        package={"name": "small-car", "invented": True},
    )
