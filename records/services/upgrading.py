"""Bring a copy that an older version of the program wrote up to this one."""

from django.db.migrations.loader import MigrationLoader

from records.services.backup_packing import Progress
from records.services.backups import run_on
from records.services.database_copy import Copy
from records.services.refusal import refuse

APP = "records"


def bring_up_to_date(copy: Copy, progress: Progress) -> None:
    """Migrate a copy where it is behind; a copy that is not stays as it is.

    Raises Refusal where the copy is ahead of this program.
    """
    loader = MigrationLoader(None)
    known = {name for app, name in loader.disk_migrations if app == APP}
    with copy.opened() as book:
        applied = book.migrations()
    if applied - known:
        raise refuse(
            "The backup was made by a newer version of this program "
            f"({max(applied - known)}). Update the program, then restore."
        )
    if known - applied:
        progress("bringing the copy up to this version")
        run_on(copy, progress, "migrate", "--no-input")
