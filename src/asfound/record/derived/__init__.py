"""What is computed from a car, kept under the hash of what it was computed from."""

from asfound.record.derived.choice import (
    CHOICE_TABLES,
    POINTS,
    ChoiceResult,
    choice_key,
    choice_result,
    chosen_now,
    has_choice_result,
    reasons_key,
)
from asfound.record.derived.doubt import decisions_in_doubt, doubt_key
from asfound.record.derived.evidence import (
    EVIDENCE_TABLES,
    HISTORY_TABLES,
    found_ledger,
    history_reading,
    weighed_evidence,
)
from asfound.record.derived.instead import Effect, choose_instead, effects_key, effects_of
from asfound.record.derived.kept import inputs_hash
from asfound.record.derived.plan import (
    PLAN_TABLES,
    PLAN_WORK_S,
    PlanResult,
    plan_at_hand,
    plan_key,
    plan_result,
    search_on,
)
from asfound.record.derived.readings import (
    COLOUR_TABLES,
    FILM_TABLES,
    GAP_TABLES,
    METAL_TABLES,
    POLISH_TABLES,
    colour_reading,
    expected_build,
    film_reading,
    gaps_reading,
    metal_reading,
    polish_reading,
)
from asfound.record.derived.reasons import exact_reasons
from asfound.record.derived.salvage import salvage_matches
from asfound.record.derived.turning import turning_key, turning_of

__all__ = [
    "CHOICE_TABLES",
    "COLOUR_TABLES",
    "EVIDENCE_TABLES",
    "FILM_TABLES",
    "GAP_TABLES",
    "HISTORY_TABLES",
    "METAL_TABLES",
    "PLAN_TABLES",
    "PLAN_WORK_S",
    "POINTS",
    "POLISH_TABLES",
    "ChoiceResult",
    "Effect",
    "PlanResult",
    "choice_key",
    "choice_result",
    "choose_instead",
    "chosen_now",
    "colour_reading",
    "decisions_in_doubt",
    "doubt_key",
    "effects_key",
    "effects_of",
    "exact_reasons",
    "expected_build",
    "film_reading",
    "found_ledger",
    "gaps_reading",
    "has_choice_result",
    "history_reading",
    "inputs_hash",
    "metal_reading",
    "plan_at_hand",
    "plan_key",
    "plan_result",
    "polish_reading",
    "reasons_key",
    "salvage_matches",
    "search_on",
    "turning_key",
    "turning_of",
    "weighed_evidence",
]
