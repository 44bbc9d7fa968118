"""When the book was last copied somewhere safe."""

from records.models import BackupRun


def last_good_backup() -> BackupRun | None:
    """Give the newest backup whose copy was restored and verified."""
    return BackupRun.objects.filter(good=True).order_by("-at", "-pk").first()


def last_backups(count: int) -> list[BackupRun]:
    """Give the newest backups, good or not."""
    return list(BackupRun.objects.order_by("-at", "-pk")[:count])
