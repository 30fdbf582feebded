"""Marks of a car beside what they are expected to be."""

from asfound.weigh.numbers.characters import LOOK_ALIKES, UNREADABLE, Compared, Verdict, compare
from asfound.weigh.numbers.check_digit import CheckDigit, check_digit, checked, product_sum
from asfound.weigh.numbers.mark import (
    RECORDS,
    Against,
    Check,
    JudgedMark,
    Reading,
    judge,
    verdict_words,
)
from asfound.weigh.numbers.order import STAGES, OrderBroken, StageDate, broken_orders
from asfound.weigh.numbers.preservation import CODES, PreservationClass

__all__ = [
    "CODES",
    "LOOK_ALIKES",
    "RECORDS",
    "STAGES",
    "UNREADABLE",
    "Against",
    "Check",
    "CheckDigit",
    "Compared",
    "JudgedMark",
    "OrderBroken",
    "PreservationClass",
    "Reading",
    "StageDate",
    "Verdict",
    "broken_orders",
    "check_digit",
    "checked",
    "compare",
    "judge",
    "product_sum",
    "verdict_words",
]
