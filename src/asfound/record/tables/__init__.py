"""The tables of a car: one declaration for the folder, the checks, the database and the docs.

Column order is the order of export. Names, units and rules are those of the car folder's
contract (docs/reference/car-folder.md).
"""

from asfound.record.tables import (
    car,
    choice,
    grounds,
    history,
    money,
    pieces,
    strip,
    survey,
    weighing,
    work,
    worked,
)
from asfound.record.tables.form import Column, Form, Reference, Table

TABLES: dict[str, Table] = {
    table.name: table
    for room in (
        car,
        survey,
        grounds,
        pieces,
        history,
        weighing,
        choice,
        work,
        worked,
        strip,
        money,
    )
    for table in room.TABLES
}

__all__ = ["TABLES", "Column", "Form", "Reference", "Table"]
