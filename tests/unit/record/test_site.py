import socket
import stat
import subprocess
import sys
from pathlib import Path

from asfound import site

_PROGRAM = """
from asfound import site
site.setup(); site.setup()
steps = []
site.migrate(steps.append); first = len(steps)
site.migrate(steps.append)
from django.conf import settings
from django.db import connection
key = str(settings.SECRET_KEY)
with connection.cursor() as cursor:
    mode = cursor.execute("PRAGMA journal_mode").fetchone()[0]
print(first > 0, len(steps) == first, mode, len(key) > 60)
"""


def test_a_fresh_home_is_set_up_once(tmp_path: Path):
    home = tmp_path / "home"
    env = {"ASFOUND_HOME": str(home), "PYTHONPATH": "src", "PATH": "/usr/bin:/bin"}
    for told in ("True True wal True", "False True wal True"):
        done = subprocess.run(
            [sys.executable, "-W", "error", "-c", _PROGRAM],
            env=env,
            capture_output=True,
            text=True,
            check=True,
        )
        assert done.stdout.split() == told.split()
        assert done.stderr == ""
    assert stat.S_IMODE((home / "secret-key").stat().st_mode) == 0o600


def test_a_taken_port_leads_to_a_free_one():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        server = site.server(port=port)
        try:
            assert server.port not in (0, port)
            assert server.address == f"http://127.0.0.1:{server.port}/"
        finally:
            server.close()
