"""Copy, open and exchange a SQLite book while the program runs."""

import shutil
import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import quote

from django.db import connection

from records.services.database_copy import Copy
from records.services.refusal import refuse

FILE = "shop.sqlite3"
SIDE_FILES = ("", "-wal", "-shm")


class SqliteBook:
    """The book in one SQLite file."""

    engine = "sqlite"

    def __init__(self, settings: Mapping[str, Any]) -> None:
        self.settings = settings
        self.path = Path(str(settings["NAME"]))

    def dump(self, target: Path) -> None:
        """Copy the book as it is at one moment; others go on writing meanwhile.

        All pages go in one step: a copy in many steps starts again at every write.
        """
        connection.ensure_connection()
        try:
            with closing(sqlite3.connect(target)) as copy:
                connection.connection.backup(copy, pages=-1)
                copy.execute("PRAGMA journal_mode=DELETE")
        except sqlite3.Error as error:
            raise refuse(f"The database can't be copied: {error}.") from error

    @contextmanager
    def open_copy(self, dump: Path, folder: Path) -> Iterator[Copy]:
        """Lay a dump in a folder of its own, as a book that can be read there."""
        path = folder / FILE
        dump.replace(path)
        yield Copy(
            folder=folder,
            url=f"sqlite:///{quote(str(path))}",
            settings={**self.settings, "NAME": str(path)},
        )

    def is_in_use(self) -> bool:
        """Tell whether another process has this book open.

        SQLite leaves its write-ahead log only when nobody else has the file open.
        """
        if not self.path.is_file():
            return False
        connection.close()
        with closing(sqlite3.connect(self.path, timeout=1)) as book:
            try:
                book.execute("PRAGMA journal_mode=DELETE")
            except sqlite3.OperationalError as error:
                return "locked" in str(error)
            except sqlite3.DatabaseError:  # too damaged to tell
                return False
        return False

    def exchange(self, copy: Copy, aside: Path) -> str:
        """Move the present book aside and the copy to its place; say where it is."""
        connection.close()
        moved = ""
        for ending in SIDE_FILES:
            part = self.path.with_name(self.path.name + ending)
            if part.exists():
                moved = moved or str(aside / part.name)
                shutil.move(part, aside / part.name)
        self.path.parent.mkdir(parents=True, exist_ok=True)
        shutil.move(str(copy.settings["NAME"]), self.path)
        return moved
