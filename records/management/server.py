"""The production server: two workers of one thread each, replaced when they fail."""

from granian.constants import Interfaces
from granian.log import LogLevels
from granian.server import Server

WORKERS = 2


def serve(host: str, port: int) -> None:
    """Serve until stopped by Ctrl-C or a termination signal.

    Pages are drawn by one thread a process: rendering does not gain from more.
    """
    Server(
        "shopqa.wsgi:application",
        address=host,
        port=port,
        interface=Interfaces.WSGI,
        workers=WORKERS,
        blocking_threads=1,
        respawn_failed_workers=True,
        workers_kill_timeout=10,
        log_level=LogLevels.warning,
    ).serve()
