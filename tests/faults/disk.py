"""A small disk that can be filled and emptied while a server writes on it."""

import os
import resource
import subprocess
from contextlib import contextmanager

import pytest

MIB = 2**20
ALL = resource.RLIM_INFINITY


class SmallDisk:
    """A file system in memory of a few megabytes: it is really full when it is."""

    def __init__(self, folder):
        self.folder = folder
        self._ballast = folder / "ballast"

    def fill(self, _shop, leaving=0):
        with self._ballast.open("wb", buffering=0) as file:
            try:
                while True:
                    file.write(b"\0" * 4096)
            except OSError:
                file.truncate(file.tell() - leaving)

    def free(self, _shop):
        self._ballast.unlink()

    @contextmanager
    def read_only(self):
        self._remount("ro")
        try:
            yield
        finally:
            self._remount("rw")

    def _remount(self, how):
        command = ["/bin/mount", "-o", f"remount,{how}", str(self.folder)]
        subprocess.run(command, check=True)  # noqa: S603


class Ration:
    """Where nothing may be mounted: the server's own files may not grow any more."""

    def __init__(self, folder):
        self.folder = folder

    def fill(self, shop, leaving=0):
        shop.largest_file = MIB + leaving
        for pid in shop.workers():
            resource.prlimit(pid, resource.RLIMIT_FSIZE, (MIB, ALL))

    def free(self, shop):
        allow_writes(shop)

    @contextmanager
    def read_only(self):
        if os.geteuid() == 0:
            pytest.skip("root may write everywhere, and nothing may be mounted here")
        for path in [self.folder, *self.folder.rglob("*")]:
            path.chmod(0o500 if path.is_dir() else 0o400)
        try:
            yield
        finally:
            for path in [self.folder, *self.folder.rglob("*")]:
                path.chmod(0o700 if path.is_dir() else 0o600)


@contextmanager
def small_disk(folder, mebibytes):
    """Give a small disk; mounting it takes root, and is not allowed everywhere."""
    folder.mkdir()
    if not _mount(folder, mebibytes):
        yield Ration(folder)
        return
    try:
        yield SmallDisk(folder)
    finally:
        subprocess.run(["/bin/umount", "--lazy", str(folder)], check=True)  # noqa: S603


def _mount(folder, mebibytes):
    size = f"size={mebibytes}m"
    command = ["/bin/mount", "-t", "tmpfs", "-o", size, "tmpfs", str(folder)]
    done = subprocess.run(command, capture_output=True, check=False)  # noqa: S603
    return done.returncode == 0


def refuse_every_write(shop):
    """Let no byte be written by a server that is running, as a disk gone read-only."""
    for pid in shop.workers():
        resource.prlimit(pid, resource.RLIMIT_FSIZE, (0, ALL))


def allow_writes(shop):
    """Let the server write again."""
    for pid in shop.workers():
        resource.prlimit(pid, resource.RLIMIT_FSIZE, (ALL, ALL))
