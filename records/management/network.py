"""Where the program can be reached in the shop."""

import ipaddress
import socket

_NOWHERE = "192.0.2.1"  # RFC 5737: for documentation; nothing is sent there


def is_taken(host: str, port: int) -> bool:
    """Tell whether something listens at this address already."""
    with socket.socket(_family(host), socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError:
            return True
    return False


def addresses(host: str, port: int) -> list[str]:
    """List the addresses to type in a browser, this machine's own name first."""
    if not _is_everywhere(host):
        return [f"http://{_bracketed(host)}:{port}"]
    return [f"http://{h}:{port}" for h in dict.fromkeys(["localhost", *_lan()])]


def _lan() -> list[str]:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect((_NOWHERE, 9))
        except OSError:
            return []
        address = probe.getsockname()[0]
    return [] if ipaddress.ip_address(address).is_loopback else [address]


def _is_everywhere(host: str) -> bool:
    return host in {"0.0.0.0", "::"}  # noqa: S104 - a comparison


def _family(host: str) -> socket.AddressFamily:
    return socket.AF_INET6 if ":" in host else socket.AF_INET


def _bracketed(host: str) -> str:
    return f"[{host}]" if ":" in host else host
