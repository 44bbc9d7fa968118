"""Where the program can be reached, and whether a port is free."""

import socket

import pytest

from records.management import network


@pytest.fixture
def listener():
    with socket.create_server(("127.0.0.1", 0)) as server:
        yield server.getsockname()


def test_a_port_that_somebody_listens_at_is_taken(listener):
    assert network.is_taken(*listener)


def test_a_port_that_was_let_go_is_free(listener):
    with socket.create_server(("127.0.0.1", 0)) as server:
        address = server.getsockname()
    assert not network.is_taken(*address)


def test_listening_everywhere_names_this_machine_and_its_own_address(monkeypatch):
    monkeypatch.setattr(network, "_lan", lambda: ["192.168.1.7"])
    assert network.addresses("0.0.0.0", 8000) == [  # noqa: S104
        "http://localhost:8000",
        "http://192.168.1.7:8000",
    ]


def test_listening_at_one_address_names_that_one():
    assert network.addresses("192.168.1.7", 80) == ["http://192.168.1.7:80"]
    assert network.addresses("fd00::7", 80) == ["http://[fd00::7]:80"]


def test_a_machine_without_a_network_still_has_its_own_name(monkeypatch):
    class Unreachable(socket.socket):
        def connect(self, address):
            raise OSError("Network is unreachable")

    monkeypatch.setattr(network.socket, "socket", Unreachable)
    assert network.addresses("::", 8000) == ["http://localhost:8000"]
