"""A PostgreSQL of a test's own, which may be stopped at any moment."""

import os
import shutil
import socket
import subprocess
from pathlib import Path

PLACES = "/usr/lib/postgresql"


class Cluster:
    """A database server in a folder, run as somebody who is not root."""

    def __init__(self, folder):
        self.folder = folder
        with socket.create_server(("127.0.0.1", 0)) as free:
            self.port = free.getsockname()[1]
        self.url = f"postgres://postgres@127.0.0.1:{self.port}/postgres"

    def make(self):
        self.folder.mkdir(mode=0o711)
        if os.geteuid() == 0:
            shutil.chown(self.folder, "postgres")
        self._run("initdb", "--auth=trust", "--username=postgres", "--encoding=UTF8")
        self.start()

    def start(self):
        options = f"-p {self.port} -k {self.folder} -c listen_addresses=127.0.0.1"
        self._run("pg_ctl", "--wait", "-o", options, "-l", self.folder / "log", "start")

    def restart_at_once(self):
        """Stop as after a power cut, and start again: connections just break."""
        options = f"-p {self.port} -k {self.folder} -c listen_addresses=127.0.0.1"
        log = self.folder / "log"
        self._run(
            "pg_ctl", "--wait", "-m", "immediate", "-o", options, "-l", log, "restart"
        )

    def stop(self):
        self._run("pg_ctl", "--wait", "-m", "immediate", "stop")

    def _run(self, program, *options):
        command = [_find(program), "-D", self.folder / "data", *options]
        if os.geteuid() == 0:
            command = ["/usr/sbin/runuser", "-u", "postgres", "--", *command]
        # What a server that goes on running inherits must not be a pipe of ours.
        with (self.folder / "said").open("w+") as said:
            done = subprocess.run(  # noqa: S603 - PostgreSQL's own programs
                list(map(str, command)),
                cwd="/",
                stdout=said,
                stderr=said,
                check=False,
                timeout=120,
            )
            said.seek(0)
            assert done.returncode == 0, said.read()


def _find(program):
    result = shutil.which(program)
    if result is None:
        newest = sorted(Path(PLACES).glob(f"*/bin/{program}"))
        assert newest, f"{program} is not installed: these tests need PostgreSQL's own"
        result = str(newest[-1])
    return result
