"""In and out: car folders, gauge files, uploads."""

from asfound.exchange.archive import unpack_folder
from asfound.exchange.read import read_folder
from asfound.exchange.reference import tables_markdown
from asfound.exchange.sheet import check_written, read_sheet
from asfound.exchange.write import write_folder
from asfound.record.as_files import csv_bytes, json_bytes, table_files

__all__ = [
    "check_written",
    "csv_bytes",
    "json_bytes",
    "read_folder",
    "read_sheet",
    "table_files",
    "tables_markdown",
    "unpack_folder",
    "write_folder",
]
