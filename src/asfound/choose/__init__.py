"""What to do with each piece: the exact choice over the whole car."""

from asfound.choose.answer import Choice
from asfound.choose.brief import Brief
from asfound.choose.charter import PRESETS, Limits, Preset, fill_in
from asfound.choose.clash import Clash, find_clash
from asfound.choose.couplings import Opening, Seam, grade_steps
from asfound.choose.explain import by_contest, explain
from asfound.choose.forcing import forcing_limits
from asfound.choose.front import Front, FrontPoint, front
from asfound.choose.letting import Letting, lettings
from asfound.choose.notices import notices
from asfound.choose.problem import Link, Option, Problem, Subject
from asfound.choose.refusal import Relaxation, relaxations
from asfound.choose.requirement import Requirement
from asfound.choose.robust import Doubt, Firmness, Robustness, robustness
from asfound.choose.solve import choose
from asfound.choose.terms import LEAVES_ALONE
from asfound.choose.turn import Turn, Turning
from asfound.choose.turning import turning, turnings
from asfound.choose.why import Why

__all__ = [
    "LEAVES_ALONE",
    "PRESETS",
    "Brief",
    "Choice",
    "Clash",
    "Doubt",
    "Firmness",
    "Front",
    "FrontPoint",
    "Letting",
    "Limits",
    "Link",
    "Opening",
    "Option",
    "Preset",
    "Problem",
    "Relaxation",
    "Requirement",
    "Robustness",
    "Seam",
    "Subject",
    "Turn",
    "Turning",
    "Why",
    "by_contest",
    "choose",
    "explain",
    "fill_in",
    "find_clash",
    "forcing_limits",
    "front",
    "grade_steps",
    "lettings",
    "notices",
    "relaxations",
    "robustness",
    "turning",
    "turnings",
]
