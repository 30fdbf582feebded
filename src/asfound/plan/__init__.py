"""In what order and by when: tasks on people and bays, and the day that can be promised."""

from asfound.plan.critical import Times, critical_tasks, network_times
from asfound.plan.governs import Governor, governors
from asfound.plan.past import Factor, Job, Past, fit_past
from asfound.plan.person import Bay, Person
from asfound.plan.pert import NetworkFinish, network_finish
from asfound.plan.plan import Placed, Plan
from asfound.plan.problem import PlanProblem
from asfound.plan.promise import Promise, promise
from asfound.plan.solve import Earlier, plan
from asfound.plan.surprise import Shift, Surprise, surprise
from asfound.plan.task import Hours, Task, TaskLink
from asfound.plan.watched import Watched
from asfound.plan.what_if import Driver, Overtime
from asfound.plan.working_time import WorkingTime

__all__ = [
    "Bay",
    "Driver",
    "Earlier",
    "Factor",
    "Governor",
    "Hours",
    "Job",
    "NetworkFinish",
    "Overtime",
    "Past",
    "Person",
    "Placed",
    "Plan",
    "PlanProblem",
    "Promise",
    "Shift",
    "Surprise",
    "Task",
    "TaskLink",
    "Times",
    "Watched",
    "WorkingTime",
    "critical_tasks",
    "fit_past",
    "governors",
    "network_finish",
    "network_times",
    "plan",
    "promise",
    "surprise",
]
