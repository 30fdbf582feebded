"""Items of evidence for a statement against its alternative, weighed together."""

from asfound.weigh.evidence.caution import base_rate_warning
from asfound.weigh.evidence.chains import condition_faults
from asfound.weigh.evidence.item import Basis, Claim, Item, same_words
from asfound.weigh.evidence.posterior import PRIORS, DeclaredPrior, posterior
from asfound.weigh.evidence.weighing import EYE_CAP, Hinge, Weighed, WeighedItem, weigh

__all__ = [
    "EYE_CAP",
    "PRIORS",
    "Basis",
    "Claim",
    "DeclaredPrior",
    "Hinge",
    "Item",
    "Weighed",
    "WeighedItem",
    "base_rate_warning",
    "condition_faults",
    "posterior",
    "same_words",
    "weigh",
]
