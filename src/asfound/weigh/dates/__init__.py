"""When things happened: windows, order and distance, and statements that clash."""

from asfound.weigh.dates.clash import Clash
from asfound.weigh.dates.days import add_months, day_number, iso_day
from asfound.weigh.dates.history import Event, History, Link
from asfound.weigh.dates.order import Order
from asfound.weigh.dates.posterior import Likely
from asfound.weigh.dates.read import Dated, HistoryReading, read_history
from asfound.weigh.dates.step import Step, Unit, at_least, at_most

__all__ = [
    "Clash",
    "Dated",
    "Event",
    "History",
    "HistoryReading",
    "Likely",
    "Link",
    "Order",
    "Step",
    "Unit",
    "add_months",
    "at_least",
    "at_most",
    "day_number",
    "iso_day",
    "read_history",
]
