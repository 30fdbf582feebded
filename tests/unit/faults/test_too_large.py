"""A file of 2 GB: refused by the length that its request tells, before a byte of it is read."""

from __future__ import annotations

import socket
from collections.abc import Callable

import pytest
from tests.unit.faults.homes import Home, Served

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("page", ["cars/load/", "cars/orrin-six/photos/add/"])
def test_two_gigabytes_are_refused_before_they_are_read(
    new_home: Callable[..., Home], page: str
) -> None:
    home = new_home()
    with Served(home) as server:
        with socket.create_connection(("127.0.0.1", server.port), timeout=20) as line:
            head = (
                f"POST /{page} HTTP/1.1\r\nHost: localhost\r\nCookie: {server.cookie}\r\n"
                "Content-Type: multipart/form-data; boundary=x\r\n"
                "Content-Length: 2000000000\r\n\r\n"
            )
            line.sendall(head.encode())  # and nothing of the file
            answer = b""
            while block := line.recv(65_536):
                answer += block
        assert answer.startswith(b"HTTP/1.1 413 ")
        assert b"At most 513 MB are taken; none was read." in answer
        assert server.ask("GET", "/cars/orrin-six/")[0] == 200
    assert home.files() == set()
