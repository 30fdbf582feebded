"""The whole record, kept outside its home and brought back: tables, log and files, by hash."""

from asfound.exchange.backup.make import back_up
from asfound.exchange.backup.restore import check_backup, restore
from asfound.exchange.backup.store import Backup, open_store

__all__ = ["Backup", "back_up", "check_backup", "open_store", "restore"]
