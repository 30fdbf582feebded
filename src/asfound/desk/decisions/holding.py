"""Which decisions hold within the doubt: work in the background, shown as it goes, stoppable."""

from __future__ import annotations

import threading
import time
from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.base import AsfoundError, StoppedError
from asfound.desk.access import open_car, refuse_readers, show
from asfound.record.convert.stored import folder_of, whole
from asfound.record.derived import decisions_in_doubt, doubt_key
from asfound.record.folder import CarFolder

DRAWS = 200
SILENT_S = 120.0
"""Work that told nothing for so long has ended with its process and may begin anew."""


@login_required
@require_http_methods(["GET", "POST"])
def holding(request: HttpRequest, slug: str) -> HttpResponse:
    """How far the draws are, or what they say; a POST begins or stops them."""
    car = open_car(request, slug)
    folder = folder_of(car)
    key = doubt_key(folder, draws=DRAWS)
    if request.method == "POST":
        refuse_readers(request)
        if request.POST.get("step") == "stop":
            cache.set(_stop(key), True, SILENT_S)
        elif cache.get(key) is None and not _runs(key):
            _begin(key, whole(folder))
    if not getattr(request, "htmx", False):
        return redirect("decisions", slug)
    return show(request, "decisions/_holding.html", car=car, **state_of(folder))


def state_of(folder: CarFolder) -> dict[str, Any]:
    """What is known of the draws: their result, how far they are, why they ended, or nothing."""
    key = doubt_key(folder, draws=DRAWS)
    result = cache.get(key)
    if result is not None:
        loose = [d for d in result.decisions if not d.is_firm]
        return {"held": result, "loose": loose, "firm_n": len(result.decisions) - len(loose)}
    if _runs(key):
        return {"running": True, "done": cache.get(_progress(key))["done"]}
    return {"ended": cache.get(_ended(key), ""), "draws_n": DRAWS}


def _runs(key: str) -> bool:
    told = cache.get(_progress(key))
    return told is not None and time.time() - told["at"] < SILENT_S


def _begin(key: str, folder: CarFolder) -> None:
    cache.delete(_stop(key))
    cache.delete(_ended(key))
    _tell(key, 0.0)
    threading.Thread(target=_work, args=(key, folder), daemon=True).start()


def _work(key: str, folder: CarFolder) -> None:
    def progress(done: float) -> None:
        if cache.get(_stop(key)):
            raise StoppedError
        _tell(key, done)

    try:
        decisions_in_doubt(folder, draws=DRAWS, progress=progress)
    except StoppedError:
        cache.set(_ended(key), "Stopped; nothing was kept.", SILENT_S)
    except AsfoundError as error:
        cache.set(_ended(key), str(error), SILENT_S)
    finally:
        cache.delete(_progress(key))


def _tell(key: str, done: float) -> None:
    cache.set(_progress(key), {"done": done, "at": time.time()}, SILENT_S)


def _progress(key: str) -> str:
    return f"{key}:progress"


def _stop(key: str) -> str:
    return f"{key}:stop"


def _ended(key: str) -> str:
    return f"{key}:ended"
