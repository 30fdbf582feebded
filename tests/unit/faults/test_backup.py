"""The record backed up while people work, and brought back: whole, or told why not."""

from __future__ import annotations

import gzip
import json
import subprocess
import threading
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.unit.faults.homes import BEGIN, Home, Served
from tests.unit.faults.test_killed import _until_it_dies, assert_sound, photograph, sha256_of

pytestmark = pytest.mark.django_db

_IN_ONE_PROCESS = (
    BEGIN
    + """
from asfound.base import InputError
from asfound.record.faults import InputFaultsError
from asfound.exchange.backup import back_up, check_backup, open_store, restore
from asfound.record.shelf import place_of, shelve
target = Path(sys.argv[1])
def refusal(act):
    try:
        act()
    except (InputError, InputFaultsError) as error:
        return str(error)
    return ""
def tell(**told):
    print(json.dumps(told))
"""
)


def in_one_process(home: Home, target: Path, code: str) -> dict:
    """What the code tells, with a store at hand."""
    return json.loads(home.python(_IN_ONE_PROCESS + code, str(target)))


def test_backed_up_while_people_work_and_brought_back_elsewhere(
    new_home: Callable[..., Home], tmp_path: Path
) -> None:
    home, target = new_home(), tmp_path / "backups"
    tags, boxes = home.told["parts"], home.told["places"]
    with Served(home) as server:
        sent = photograph(50)
        assert server.send_photo("sent.png", sent)[0] == 200
        stop = threading.Event()

        def move(number: int) -> None:
            if stop.is_set():
                raise ConnectionAbortedError
            tag, box = tags[number % len(tags)][1], boxes[number % len(boxes)][1]
            assert server.post("/scan/", tags=tag, place=box) == 302

        people = [threading.Thread(target=_until_it_dies, args=(move,)) for _ in range(2)]
        for person in people:
            person.start()
        done = home.command("backup", str(target), "--json")
        stop.set()
        for person in people:
            person.join()
    assert done.returncode == 0, done.err
    told = json.loads(done.out)
    assert told["new_files_n"] == told["files_n"] == 1
    elsewhere = new_home(empty=True)
    back = elsewhere.command("restore", str(target))
    assert back.returncode == 0, back.err
    assert f"log     {told['log_lines_n']} lines, head {told['log_head']}" in back.out
    sound = assert_sound(elsewhere)  # every part lies where its last move says: one moment
    assert sound["photos"] == [sha256_of(sent)]
    assert sound["lines"] == [told["log_lines_n"], told["log_head"]]


def test_the_sums_can_be_checked_without_the_program(
    new_home: Callable[..., Home], tmp_path: Path
) -> None:
    home, target = new_home(), tmp_path / "backups"
    code = """
shelve(io.BytesIO(b"a file")); one = back_up(target)
shelve(io.BytesIO(b"another")); two = back_up(target)
tell(one=one.new_files_n, two=two.new_files_n, files=two.files_n, whole=two.is_whole)
"""
    told = in_one_process(home, target, code)
    assert told == {"one": 1, "two": 1, "files": 2, "whole": True}, "the first is not copied again"
    for made in (target / "backups").iterdir():
        listed = gzip.decompress((made / "manifest-sha256.txt.gz").read_bytes())
        sums = ["sha256sum", "--check", "--quiet", "--strict", "-"]
        subprocess.run(sums, input=listed, cwd=target, check=True)
        assert listed.count(b"/tables/") == len(list((made / "tables").iterdir()))


def test_damage_is_told_and_the_rest_can_be_brought_back(
    new_home: Callable[..., Home], tmp_path: Path
) -> None:
    home, target = new_home(), tmp_path / "backups"
    code = """
good, bad, rotten = (shelve(io.BytesIO(b)).sha256 for b in (b"good", b"bad", b"rotten"))
from asfound.record.models import Car, KeptFile, Part
car = Car.objects.get()
for n, sha in enumerate((good, bad, "0" * 64)):
    KeptFile.objects.create(car=car, path=f"photos/{n}.jpg", sha256=sha, size=4)
from asfound.record.actions.salvage import add_piece
from asfound.record.actions.salvage_photo import keep_salvage_photo
piece = add_piece(cells={"kind": "hide", "name": "hide"}, by=None)
keep_salvage_photo(piece=piece, sha256="f" * 64, size=4, suffix=".jpg", by=None)
place_of(rotten).write_bytes(b"Rotten")
made = back_up(target)
store = open_store(target)
kept = target / "files" / bad[:2] / bad[2:]
kept.write_bytes(b"Bad")
place_of(bad).unlink(); place_of(good).unlink()
checked = check_backup(store).damaged
Part.objects.all().delete()
first = refusal(lambda: restore(store, replace=True))
parts_between = Part.objects.count()
back = restore(store, replace=True, without_damaged=True)
parts = Part.objects.count()
table = target / "backups" / made.name / "tables" / "record_part.jsonl.gz"
table.write_bytes(table.read_bytes()[:-9])
second = refusal(lambda: restore(store, replace=True, without_damaged=True))
manifest = target / "backups" / made.name / "manifest-sha256.txt.gz"
manifest.write_bytes(manifest.read_bytes()[:-9])
third = refusal(lambda: check_backup(store))
tell(damaged=made.damaged == (rotten,), missing=list(made.missing), checked=list(checked) == [bad],
     first=first, between=parts_between, left_out=list(back.damaged) == [bad], parts=parts,
     good=place_of(good).exists(), bad=place_of(bad).exists(), kept=bool(back.kept),
     second=second, third=third, after=Part.objects.count())
"""
    told = in_one_process(home, target, code)
    assert told["damaged"] is True
    assert told["missing"] == ["0" * 64, "f" * 64]
    assert told["checked"] is True
    assert "--without-damaged" in told["first"]
    assert told["between"] == 0, "a refused restore changes nothing"
    assert told["parts"] == len(home.told["parts"])
    assert (told["left_out"], told["good"], told["bad"], told["kept"]) == (True, True, False, True)
    assert "record_part.jsonl.gz" in told["second"]
    assert "manifest-sha256.txt.gz" in told["third"]
    assert told["after"] == len(home.told["parts"])


def test_a_backup_of_other_versions(new_home: Callable[..., Home], tmp_path: Path) -> None:
    """One of an earlier version is brought to today's tables; one of a later version is refused."""
    home, target = new_home(), tmp_path / "backups"
    code = """
made = back_up(target)
place = target / "backups" / made.name / "backup.json"
told = json.loads(place.read_text())
place.write_text(json.dumps({**told, "migrations": [*told["migrations"], "record.9999_to_come"]}))
later = refusal(lambda: restore(open_store(target), replace=True))
from django.db.migrations.loader import MigrationLoader
from asfound.exchange.backup.rows import tables
had = [one for one in told["migrations"] if one < "record.0010"]
then = MigrationLoader(None).project_state([tuple(one.split(".", 1)) for one in had])
rows = {model._meta.db_table: told["rows"][model._meta.db_table] for model in tables(then.apps)}
place.write_text(json.dumps({**told, "migrations": had, "rows": rows}))
restore(open_store(target), replace=True)
from asfound.record.models import Person
from asfound.record.reads.search import search
found = search("clip", by=Person.objects.get().user)
tell(later=later, found=len(found.parts))
"""
    told = in_one_process(home, target, code)
    assert "record.9999_to_come" in told["later"]
    assert told["found"] == len(home.told["parts"]), "what later migrations make is made"


def test_a_backup_goes_only_where_it_belongs(new_home: Callable[..., Home], tmp_path: Path) -> None:
    home = new_home()
    letters = tmp_path / "letters"
    letters.mkdir()
    (letters / "to-the-owner.txt").write_text("Dear …")
    code = """
home = site.home()
told = [refusal(lambda: back_up(where)) for where in (target, home / "backups")]
told.append(refusal(lambda: open_store(target)))
store = open_store(target.parent / "ours", make=True)
told.append(refusal(lambda: restore(store)))
back_up(store.folder)
told.append(refusal(lambda: restore(store)))
with site.at_work():
    told.append(refusal(lambda: restore(store, replace=True)))
tell(told=told)
"""
    told = in_one_process(home, letters, code)
    rules = ("of its own", "outside the home", "a folder of backups", "one of none")
    rules = (*rules, "holds a record already", "runs now")
    assert [rule for rule, said in zip(rules, told["told"], strict=True) if rule not in said] == []
    assert [path.name for path in letters.iterdir()] == ["to-the-owner.txt"]


_FORK = """
import os, resource, signal
from django.db import connection
import asfound.exchange.backup.make as make
die = lambda *a, **k: os.kill(os.getpid(), signal.SIGKILL)
def killed(act):
    connection.close()
    child = os.fork()
    if not child:
        act(); os._exit(0)
    return os.WTERMSIG(os.waitpid(child, 0)[1]) == signal.SIGKILL
"""


def test_a_backup_that_ended_early_is_none(new_home: Callable[..., Home], tmp_path: Path) -> None:
    home, target = new_home(), tmp_path / "backups"
    code = (
        _FORK
        + """
from asfound.__main__ import app
from asfound.cli.app import _code
command = lambda: _code(lambda: app.main(["backup", str(target)], standalone_mode=False))
shelve(io.BytesIO(bytes(3_000_000))); back_up(target)
shelve(io.BytesIO(bytes(4_000_000)))
seen = lambda: sorted(path.name for path in (target / "backups").iterdir())
first, real = seen(), make.put_in_place
def stop(*a, **k): raise KeyboardInterrupt
make.put_in_place = stop; stopped = command()
make.put_in_place = die; dead = killed(lambda: back_up(target)); left = len(seen())
make.put_in_place = real
limits = resource.getrlimit(resource.RLIMIT_FSIZE)
resource.setrlimit(resource.RLIMIT_FSIZE, (3_500_000, limits[1])); full = command()
resource.setrlimit(resource.RLIMIT_FSIZE, limits)
cleared, again = seen() == first, back_up(target)
sys.stdout.flush()
tell(stopped=stopped, dead=dead, left=left, full=full, cleared=cleared, again=again.new_files_n,
     drafts=len(list(target.rglob(".draft-*"))), names=len(open_store(target).names()))
"""
    )
    told = in_one_process(home, target, code)
    assert (told["stopped"], told["full"], told["dead"]) == (130, 3, True)
    assert told["left"] == 2, "the killed one leaves a draft"
    assert told["cleared"], "which the next takes away"
    assert (told["again"], told["drafts"], told["names"]) == (1, 0, 2)


def test_a_restore_that_was_killed_leaves_the_record_as_it_was(
    new_home: Callable[..., Home], tmp_path: Path
) -> None:
    home, target = new_home(), tmp_path / "backups"
    code = (
        _FORK
        + """
from asfound.record.models import Part
back_up(target); Part.objects.filter(part="0001").delete()
migrate, site.migrate = site.migrate, die
dead = killed(lambda: restore(open_store(target), replace=True))
between = Part.objects.count()
site.migrate = migrate
restore(open_store(target), replace=True)
tell(dead=dead, between=between, after=Part.objects.count())
"""
    )
    parts_n = len(home.told["parts"])
    told = in_one_process(home, target, code)
    assert told == {"dead": True, "between": parts_n - 1, "after": parts_n}
