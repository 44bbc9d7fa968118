"""What the demo's book says today, as texts to hold the next change against.

Each text is one of `tests/golden/`: what a command, a paper or a page says of one
thing of the demo. `GOLDEN=write pytest tests/journeys/test_demo.py` writes them anew:
read the difference before it is committed, for every line of it is meant.
"""

import json
import re
from collections.abc import Callable, Iterator
from html import unescape
from http import HTTPStatus
from io import StringIO
from pathlib import Path

from django.core.management import call_command
from django.test import Client
from django.urls import reverse

from records.documents.conformity.record import draw_conformity
from records.models import (
    Blank,
    Board,
    ConformityRecord,
    Coupon,
    Deviation,
    Gauge,
    Lot,
    Mix,
    PressLoad,
    Propeller,
    Tag,
)

FOLDER = Path(__file__).resolve().parents[1] / "golden"
STATES = ("in_work", "released", "delivered", "returned", "scrapped")
# What chance makes: digests, seals, and the codes of tags.
DIGEST = re.compile(r"\b[0-9a-f]{16,64}\b|\b(?:[0-9a-f]{8}\s){7}[0-9a-f]{8}\b")
SEAL = re.compile(r"(?<![\w-])[\w-]{40,}(?:\.[\w-]*)*")
KEY = re.compile(r"\b(shop|[\w-]+)-[0-9a-f]{8}\b")
BLOCKS = (
    r"p|li|tr|h\d|dt|dd|section|div|table|ul|ol|dl|form|article|summary|caption"
    "|button|option|label|a|legend"
)
Drawn = list[str]


def outputs(client: Client, drawn: Drawn) -> Iterator[tuple[str, str]]:
    """Give each text with its name; `drawn` collects the pages of papers."""
    serials = list(_serials())
    for propeller in serials:
        yield f"trace {propeller.serial}", _trace(propeller.serial)
    for record in ConformityRecord.objects.order_by("pk"):
        facts = json.loads(record.facts)
        yield f"facts {record.number}", _spelled(facts)
        drawn.clear()
        draw_conformity(facts, record.seal)
        yield f"paper {record.number}", _words(drawn[0])
    for name, path in _papers(serials):
        drawn.clear()
        answer = client.get(path)
        assert answer.status_code == HTTPStatus.OK, path
        yield f"paper {name}", _words(drawn[0])
    for name, path in _pages(serials):
        html = client.get(path, follow=True).content.decode()
        yield f"page {name}", _words(_main(html))


def kept(name: str) -> Path:
    """Tell where a text is kept."""
    return FOLDER / f"{name.replace(' ', '_').replace('/', '-')}.txt"


def _serials() -> Iterator[Propeller]:
    """Give one propeller in each state, and the last in work beside the first."""
    for state in STATES:
        of = Propeller.objects.filter(state=state).order_by("pk")
        yield of.first()
    yield Propeller.objects.filter(state="in_work").order_by("pk").last()


def _trace(serial: str) -> str:
    out = StringIO()
    call_command("trace", "serial", serial, "--json", stdout=out)
    return _settled(out.getvalue())


def _papers(serials: list[Propeller]) -> Iterator[tuple[str, str]]:
    for propeller in serials:
        serial = propeller.serial
        yield f"build {serial}", reverse("conformity:build_record", args=[serial])
    for deviation in Deviation.objects.order_by("pk"):
        number = deviation.number
        yield f"deviation {number}", reverse("deviations:report", args=[number])
    for tag in Tag.objects.filter(propeller__isnull=False).order_by("pk")[:2]:
        serial = tag.propeller.serial
        yield f"card {serial}", reverse("tags:card_pdf", args=["propeller", serial])


def _pages(serials: list[Propeller]) -> Iterator[tuple[str, str]]:
    yield "today", reverse("today:today")
    for propeller in serials:
        at = [propeller.serial]
        yield f"propeller {propeller.serial}", reverse("builds:propeller", args=at)
        yield f"history {propeller.serial}", reverse("trace:serial", args=at)
    for kind, address, rows in (
        ("blank", "builds:blank", Blank.objects.order_by("pk")[:2]),
        ("blank", "builds:blank", Blank.objects.order_by("-pk")[:2]),
        ("blank", "gluing:glue_up", Blank.objects.filter(state="gluing")[:1]),
        ("lot", "lots:lot", Lot.objects.order_by("pk")[:3]),
        ("board", "boards:board", Board.objects.order_by("pk")[:2]),
        ("mix", "gluing:mix", Mix.objects.order_by("pk")[:2]),
        ("load", "pressing:load", PressLoad.objects.order_by("pk")[:3]),
        ("coupon", "coupons:coupon", Coupon.objects.order_by("pk")[:2]),
        ("gauge", "gauges:gauge", Gauge.objects.order_by("pk")[:2]),
        ("deviation", "deviations:deviation", Deviation.objects.order_by("pk")),
        ("record", "conformity:record", ConformityRecord.objects.order_by("pk")[:2]),
    ):
        for row in rows:
            name = f"{kind} {row.number} {address.partition(':')[2]}"
            yield name, reverse(address, args=[row.number])
    for kind, row in (
        ("lot", Lot.objects.order_by("pk").first()),
        ("mix", Mix.objects.order_by("pk").first()),
        ("load", PressLoad.objects.order_by("pk").first()),
        ("gauge", Gauge.objects.order_by("pk").first()),
    ):
        yield f"went {row.number}", reverse(f"trace:{kind}", args=[row.number])


def drawing_into(drawn: Drawn) -> Callable[[str, object], bytes]:
    """Give a way to draw that only keeps the page: its text is what is compared."""

    def draw(job: str, _: object) -> bytes:
        drawn.append(json.loads(job)["html"])
        return b"%PDF-1.7"

    return draw


def _main(html: str) -> str:
    result = re.search(r"<main\b.*</main>", html, re.DOTALL)
    return result[0] if result else html


def _words(html: str) -> str:
    """Give the words of a page, a block a line."""
    text = re.sub(r"<(style|script|svg)\b.*?</\1>", " ", html, flags=re.DOTALL)
    text = re.sub(r"\s+", " ", text.replace("\u00a0", "~"))
    text = re.sub(rf"</?(?:{BLOCKS})\b[^>]*>", "\n", text)
    text = re.sub(r"</t[dh]>", " | ", text)
    text = unescape(re.sub(r"<[^>]+>", "", text)).replace("\u00a0", "~")
    lines = (" ".join(line.split()) for line in text.splitlines())
    return _settled("\n".join(line for line in lines if line) + "\n")


def _spelled(facts: object) -> str:
    return _settled(json.dumps(facts, ensure_ascii=False, indent=1, sort_keys=True))


def _settled(text: str) -> str:
    """Put a fixed word where chance decides."""
    codes = Tag.objects.values_list("code", flat=True)
    groups = "|".join(r"\s?".join(re.findall("....", code)) for code in codes)
    text = re.sub(groups, "<code>", text)
    text = DIGEST.sub("<digest>", SEAL.sub("<seal>", text))
    return KEY.sub(r"\1-<key>", text).rstrip("\n") + "\n"
