"""Copy, open and exchange a PostgreSQL book, with PostgreSQL's own programs."""

import os
import shutil
import subprocess
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import quote, urlencode

from django.db import connection

from records.services.database_copy import Copy
from records.services.refusal import refuse

LONGEST_NAME = 63
MISSING = (
    "PostgreSQL's program {0} is not on this machine. Install PostgreSQL's client "
    "programs, of the server's version or newer."
)


class PostgresqlBook:
    """The book in a PostgreSQL database."""

    engine = "postgresql"

    def __init__(self, settings: Mapping[str, Any]) -> None:
        self.settings = settings
        self.name = str(settings["NAME"])

    def dump(self, target: Path) -> None:
        """Copy the book as it is at one moment; others go on writing meanwhile."""
        self._run("pg_dump", "--format=custom", f"--file={target}", self.name)

    @contextmanager
    def open_copy(self, dump: Path, folder: Path) -> Iterator[Copy]:
        """Load a dump into a database of its own, which goes when it is left."""
        name = _ending(self.name, "_copy")
        self._maintain(f'DROP DATABASE IF EXISTS "{name}"')
        self._maintain(f'CREATE DATABASE "{name}" TEMPLATE template0')
        try:
            self._run(
                "pg_restore",
                "--no-owner",
                "--no-privileges",
                "--exit-on-error",
                f"--dbname={name}",
                str(dump),
            )
            yield Copy(folder, self._url(name), {**self.settings, "NAME": name})
        finally:
            self._maintain(f'DROP DATABASE IF EXISTS "{name}"')

    def is_in_use(self) -> bool:
        """Tell whether anybody else is connected to this database."""
        with connection.cursor() as cursor:
            cursor.execute(
                "SELECT count(*) FROM pg_stat_activity WHERE pid <> pg_backend_pid() "
                "AND datname = current_database() AND backend_type = 'client backend'"
            )
            return bool(cursor.fetchone()[0])

    def exchange(self, copy: Copy, aside: Path) -> str:
        """Rename the present database aside and the copy to its name; say both."""
        connection.close()
        other = str(copy.settings["NAME"])
        kept = _ending(self.name, f"_{aside.name}".replace("-", "_"))
        self._maintain(
            f'ALTER DATABASE "{self.name}" RENAME TO "{kept}"',
            f'ALTER DATABASE "{other}" RENAME TO "{self.name}"',
        )
        return f"the database {kept}"

    def _maintain(self, *statements: str) -> None:
        """Run statements from outside the shop's database, two or more as one."""
        import psycopg  # noqa: PLC0415 - only where PostgreSQL is used

        outside = "template1" if self.name == "postgres" else "postgres"
        where = {**connection.get_connection_params(), "dbname": outside}
        for setting in ("cursor_factory", "context"):
            where.pop(setting, None)
        try:
            with psycopg.connect(**where, autocommit=len(statements) == 1) as session:
                for statement in statements:
                    session.execute(statement.encode())
        except psycopg.Error as error:
            raise refuse(
                f"PostgreSQL refused: {str(error).strip()}. The account needs the "
                "right to create databases (ALTER ROLE name CREATEDB), and no other "
                "backup or restore may be at work."
            ) from error

    def _run(self, program: str, *options: str) -> None:
        program_path = shutil.which(program)
        if program_path is None:
            raise refuse(MISSING.format(program))
        done = subprocess.run(  # noqa: S603 - PostgreSQL's own programs
            [program_path, "--no-password", *options],
            env={**os.environ, **self._libpq()},
            capture_output=True,
            text=True,
            check=False,
        )
        if done.returncode:
            raise refuse(f"{program} could not do it: {done.stderr.strip()}")

    def _libpq(self) -> dict[str, str]:
        asked = {
            "PGHOST": self.settings["HOST"],
            "PGPORT": self.settings["PORT"],
            "PGUSER": self.settings["USER"],
            "PGPASSWORD": self.settings["PASSWORD"],
            "PGSSLMODE": self.settings["OPTIONS"].get("sslmode", ""),
            "PGSSLROOTCERT": self.settings["OPTIONS"].get("sslrootcert", ""),
        }
        return {name: str(value) for name, value in asked.items() if value}

    def _url(self, name: str) -> str:
        part = {k: quote(str(self.settings[k]), safe="") for k in _PARTS}
        who = f"{part['USER']}:{part['PASSWORD']}@" if part["USER"] else ""
        port = f":{part['PORT']}" if part["PORT"] else ""
        more = {k: v for k, v in self.settings["OPTIONS"].items() if isinstance(v, str)}
        asked = f"?{urlencode(more)}" if more else ""
        return f"postgres://{who}{part['HOST']}{port}/{quote(name)}{asked}"


_PARTS = ("USER", "PASSWORD", "HOST", "PORT")


def _ending(name: str, ending: str) -> str:
    return name[: LONGEST_NAME - len(ending)] + ending
