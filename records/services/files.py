"""Keep photos and papers: cleaned, under the digest of their bytes."""

import datetime as dt
import hashlib
import io
import warnings
from dataclasses import dataclass
from typing import Final, Protocol

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db.models import Model
from PIL import Image, ImageOps

from records.models import Attachment, Reading, StoredFile
from records.queries.files import Damaged, place_of, read_kept
from records.queries.subjects import called, kind_of, number_of
from records.rules.files import JPEG, PDF, PICTURES, file_may_be_kept, is_pdf
from records.rules.moments import already_happened
from records.services.ledger import Act, Entry
from records.services.refusal import refuse, refuse_if_blocked

LONGEST_SIDE: Final = 2400
QUALITY: Final = 85
_CAPTION_LENGTH: Final = 120
_NAME_LENGTH: Final = 120


class Sent(Protocol):
    """A file as it was sent: its name is only a label, its content decides."""

    @property
    def name(self) -> str:
        """Give the name it was sent under."""

    @property
    def data(self) -> bytes:
        """Give its bytes."""


@dataclass(frozen=True, slots=True)
class Cleaned:
    """A photo or paper as it will be kept."""

    name: str
    media_type: str
    data: bytes


def clean(sent: Sent, *, field: str = "photo") -> Cleaned:
    """Check a file that was sent, and write a picture anew.

    A picture comes out as an upright JPEG of at most 2400 pixels a side, without the
    place where it was taken or any other hidden data. A PDF is kept as it is. Do this
    before the entry is opened: it takes a tenth of a second.

    Raises Refusal, at `field`, where the file can't be kept.
    """
    refuse_if_blocked(file_may_be_kept(sent.data, field))
    if is_pdf(sent.data):
        return Cleaned(_name(sent.name, "pdf"), PDF, sent.data)
    return Cleaned(_name(sent.name, "jpg"), JPEG, _redrawn(sent.data, field))


def store_file(entry: Entry, *, name: str, media_type: str, data: bytes) -> StoredFile:
    """Keep bytes under their digest; the same bytes are kept once."""
    digest = hashlib.sha256(data).hexdigest()
    known = StoredFile.objects.filter(sha256=digest).first()
    file = known or StoredFile(
        sha256=digest, name=name, media_type=media_type, size=len(data)
    )
    _put(file, data)
    return known or entry.add(file)


def attach(
    entry: Entry,
    subject: Model,
    file: Cleaned,
    *,
    caption: str,
    happened_at: dt.datetime,
    reading: Reading | None = None,
) -> Attachment:
    """Keep a cleaned file and attach it to a thing, within an open entry."""
    stored = store_file(
        entry, name=file.name, media_type=file.media_type, data=file.data
    )
    attachment = Attachment(
        file=stored, caption=caption, happened_at=happened_at, reading=reading
    )
    setattr(attachment, kind_of(subject), subject)
    return entry.add(attachment)


def attach_to_reading(entry: Entry, reading: Reading, file: Cleaned) -> Attachment:
    """Attach a photo to what was read, with the reading that it shows."""
    return attach(
        entry,
        reading.subject,
        file,
        caption=f"{reading.characteristic.name}: {reading.entered}"[:_CAPTION_LENGTH],
        happened_at=reading.happened_at,
        reading=reading,
    )


def attach_file(
    *, act: Act, subject: Model, photo: Sent, caption: str, happened_at: dt.datetime
) -> Attachment:
    """Attach a photo or paper to a thing."""
    refuse_if_blocked(already_happened(happened_at, act.at))
    cleaned = clean(photo)
    with Entry(act, "attach file") as entry:
        entry.subject = number_of(subject)
        label = caption.strip() or f"Photo of {called(subject)}"
        return attach(entry, subject, cleaned, caption=label, happened_at=happened_at)


def _put(file: StoredFile, data: bytes) -> None:
    """Write the bytes, unless they lie there unharmed."""
    place = place_of(file.sha256)
    if default_storage.exists(place):
        try:
            read_kept(file)
        except Damaged:
            default_storage.delete(place)
        else:
            return
    default_storage.save(place, ContentFile(data))


def _redrawn(data: bytes, field: str) -> bytes:
    output = io.BytesIO()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            _upright(data).save(output, "JPEG", quality=QUALITY, optimize=True)
    except (OSError, SyntaxError, ValueError, Image.DecompressionBombError) as error:
        raise refuse(
            "The picture is damaged: it can't be read to its end. Send it again.", field
        ) from error
    return output.getvalue()


def _upright(data: bytes) -> Image.Image:
    """Draw the picture upright on white, in RGB, with nothing but its pixels."""
    picture = Image.open(io.BytesIO(data), formats=PICTURES)
    picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
    upright = ImageOps.exif_transpose(picture)
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    paper = Image.new("RGB", upright.size, "white")
    if upright.has_transparency_data:
        layer = upright.convert("RGBA")
        paper.paste(layer, mask=layer.getchannel("A"))
    else:
        paper.paste(upright.convert("RGB"))
    return paper


def _name(sent: str, ending: str) -> str:
    stem = sent.replace("\\", "/").rsplit("/", 1)[-1].rsplit(".", 1)[0]
    kept = "".join(c for c in stem if c.isprintable() and c not in '<>:"|?*')
    room = _NAME_LENGTH - len(ending) - 1
    return f"{kept.strip(' .')[:room] or 'file'}.{ending}"
