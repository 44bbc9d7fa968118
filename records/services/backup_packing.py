"""One file with the whole shop in it: database, kept files, keys, and what it is.

The file is a plain zip: `about.json`, `database`, `files/` under their digests as in
the store, and `keys/`. It holds private keys: whoever has it can sign as the shop.
"""

import json
import os
import re
import shutil
import zipfile
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from pathlib import Path

from django.core.files.storage import default_storage

from records.models import StoredFile
from records.queries.files import place_of
from records.services.refusal import refuse

Progress = Callable[[str], None]

ABOUT, DATABASE = "about.json", "database"
FORMAT = 1
KEYS, FILES = "keys", "files"
AT_ONCE = 2000
_FAST = 1
_MEMBER = re.compile(
    r"about\.json|database|files/[0-9a-f]{2}/[0-9a-f]{64}"
    r"|keys(/[A-Za-z0-9_-][A-Za-z0-9._-]*){1,3}"
)


@dataclass(frozen=True, slots=True)
class About:
    """What a backup says of itself."""

    made_at: str
    engine: str
    sequence: int
    digest: str
    version: str
    format: int = FORMAT


def pack(target: Path, dump: Path, data: Path, progress: Progress) -> None:
    """Write everything but `about.json` into a new file that only its owner reads."""
    with _private_zip(target) as packed:
        progress("packing the database")
        packed.write(dump, DATABASE, zipfile.ZIP_DEFLATED, _FAST)
        for path in sorted((data / KEYS).rglob("*")):
            if path.is_file():
                packed.write(path, f"{KEYS}/{path.relative_to(data / KEYS).as_posix()}")
        total = StoredFile.objects.count()
        for number, place in enumerate(_places(), start=1):
            progress(f"adding files: {number} of {total}")
            _pack_file(packed, place)


def seal(target: Path, about: About) -> None:
    """Add what the backup is, and make sure that it is on the disk."""
    with zipfile.ZipFile(target, "a") as packed:
        packed.writestr(ABOUT, json.dumps(asdict(about), indent=1, sort_keys=True))
    with target.open("rb+") as file:
        os.fsync(file.fileno())


def read_about(file: Path) -> About:
    """Read what a backup says of itself.

    Raises Refusal where the file is no backup of this program.
    """
    try:
        with zipfile.ZipFile(file) as packed:
            about = About(**json.loads(packed.read(ABOUT)))
    except FileNotFoundError as error:
        raise refuse(f"There is no file {file}.") from error
    except (KeyError, OSError, TypeError, ValueError, zipfile.BadZipFile) as error:
        raise refuse(f"{file} is no backup, or it is damaged: {error}.") from error
    if about.format != FORMAT:
        raise refuse(f"{file} was made by a newer version of this program. Update it.")
    return about


def unpack(file: Path, folder: Path, progress: Progress) -> Path:
    """Lay a backup out in a folder as a shop's data; give the dump's path.

    Every byte is checked against the sums in the zip. Raises Refusal on a damaged one.
    """
    try:
        with zipfile.ZipFile(file) as packed:
            names = packed.namelist()
            for number, name in enumerate(names, start=1):
                progress(f"unpacking {number} of {len(names)}")
                if not _MEMBER.fullmatch(name):
                    raise refuse(f"{file} holds {name!r}, which no backup of ours has.")
                _unpack_one(packed, name, folder / name)
    except (OSError, EOFError, zipfile.BadZipFile, zlib.error) as error:
        raise refuse(f"{file} can't be unpacked: {error}.") from error
    return folder / DATABASE


@contextmanager
def _private_zip(target: Path) -> Iterator[zipfile.ZipFile]:
    descriptor = os.open(target, os.O_RDWR | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "r+b") as file, zipfile.ZipFile(file, "w") as packed:
        yield packed


def _places() -> Iterator[str]:
    digests = StoredFile.objects.order_by("pk").values_list("sha256", flat=True)
    for sha256 in digests.iterator(AT_ONCE):
        yield place_of(sha256)


def _pack_file(packed: zipfile.ZipFile, place: str) -> None:
    """Pack a kept file; one that is missing is found when the copy is checked."""
    try:
        with (
            default_storage.open(place) as kept,
            packed.open(f"{FILES}/{place}", "w", force_zip64=True) as member,
        ):
            shutil.copyfileobj(kept, member)
    except FileNotFoundError:
        return


def _unpack_one(packed: zipfile.ZipFile, name: str, path: Path) -> None:
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with packed.open(name) as member, os.fdopen(descriptor, "wb") as file:
        shutil.copyfileobj(member, file)
