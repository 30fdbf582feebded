"""Making a new plan: work in the background, shown as it goes, stoppable."""

from __future__ import annotations

import logging
import secrets
import threading
import time
from collections.abc import Callable
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
_LOG = logging.getLogger(__name__)
_MADE, _PROGRESS, _STOP, _ENDED, _TURN = (
    f"plan-of-shop:{name}" for name in ("made", "done", "stop", "ended", "turn")
)


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
    """Make a plan in a thread of its own; one that is being made is given up for it."""
    turn = secrets.token_hex(8)
    cache.delete_many([_STOP, _ENDED, _MADE])
    cache.set(_TURN, turn)
    _tell(0.0)
    threading.Thread(target=_work, args=(turn,), daemon=True).start()


def _runs() -> bool:
    told = cache.get(_PROGRESS)
    return told is not None and time.time() - told["at"] < SILENT_S


def _work(turn: str) -> None:
    def progress(done: float) -> None:
        if cache.get(_STOP) or cache.get(_TURN) != turn:
            raise StoppedError
        _tell(done)

    try:
        name, told = _tried(progress)
        if cache.get(_TURN) == turn:
            cache.set(name, told)
            cache.delete(_PROGRESS)
    finally:
        connection.close()


def _tried(progress: Callable[[float], None]) -> tuple[str, Any]:
    """Where to keep what came out, and that."""
    try:
        made = make_plan(now=timezone.localtime(), progress=progress)
    except StoppedError:
        return _ENDED, ["Stopped; the adopted plan stands as it was"]
    except InputFaultsError as error:
        return _ENDED, [str(fault) for fault in error.faults]
    except NoSolutionError as error:
        return _ENDED, list(error.clash)
    except AsfoundError as error:
        return _ENDED, [str(error)]
    except Exception:
        _LOG.exception("a plan of the shop was not made")
        return _ENDED, ["A fault of the program; the adopted plan stands. The log has the details"]
    if made is None:
        return _ENDED, ["Every task is done or no car has one: there is nothing to plan"]
    return _MADE, made


def _tell(done: float) -> None:
    cache.set(_PROGRESS, {"done": done, "at": time.time()}, SILENT_S)
