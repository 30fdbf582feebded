"""Making a new plan: work in the background, shown as it goes, stoppable."""

from __future__ import annotations

import threading
import time
from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.db import connection
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from asfound.base import AsfoundError, NoSolutionError, StoppedError
from asfound.desk.access import refuse_readers, show
from asfound.record.faults import InputFaultsError
from asfound.record.shop_made import MadePlan, make_plan, shop_inputs

SILENT_S = 120.0
"""Work that told nothing for so long has ended with its process and may begin anew."""
_MADE, _PROGRESS, _STOP, _ENDED = (f"plan-of-shop:{n}" for n in ("made", "done", "stop", "ended"))


@login_required
@require_http_methods(["GET", "POST"])
def making(request: HttpRequest) -> HttpResponse:
    """How far the plan is, or where to look at it; a POST begins or stops it."""
    refuse_readers(request)
    if request.method == "POST":
        if request.POST.get("step") == "stop":
            cache.set(_STOP, True, SILENT_S)
        elif not _runs():
            begin()
    if not getattr(request, "htmx", False):
        return redirect("shop")
    return show(request, "shop/_making.html", **state())


def state() -> dict[str, Any]:
    """What is known of the new plan: made, how far it is, why it ended, or nothing."""
    if _runs():
        return {"running": True, "done": cache.get(_PROGRESS)["done"]}
    made = made_now()
    if made is not None:
        return {"made": made, "is_old": made.inputs_sha256 != shop_inputs()}
    return {"ended": cache.get(_ENDED)}


def made_now() -> MadePlan | None:
    """New plan that waits to be looked at."""
    found: MadePlan | None = cache.get(_MADE)
    return found


def forget_made() -> None:
    """The plan was adopted or is not wanted."""
    cache.delete_many([_MADE, _ENDED])


def begin() -> None:
    """Make a plan in a thread of its own."""
    cache.delete_many([_STOP, _ENDED, _MADE])
    _tell(0.0)
    threading.Thread(target=_work, daemon=True).start()


def _runs() -> bool:
    told = cache.get(_PROGRESS)
    return told is not None and time.time() - told["at"] < SILENT_S


def _work() -> None:
    def progress(done: float) -> None:
        if cache.get(_STOP):
            raise StoppedError
        _tell(done)

    try:
        made = make_plan(now=timezone.localtime(), progress=progress)
        if made is None:
            cache.set(_ENDED, ["Every task is done or no car has one: there is nothing to plan"])
        else:
            cache.set(_MADE, made)
    except StoppedError:
        cache.set(_ENDED, ["Stopped; the adopted plan stands as it was"], SILENT_S)
    except InputFaultsError as error:
        cache.set(_ENDED, [str(fault) for fault in error.faults])
    except NoSolutionError as error:
        cache.set(_ENDED, list(error.clash))
    except AsfoundError as error:
        cache.set(_ENDED, [str(error)])
    finally:
        cache.delete(_PROGRESS)
        connection.close()


def _tell(done: float) -> None:
    cache.set(_PROGRESS, {"done": done, "at": time.time()}, SILENT_S)
