"""The conformity record as a document: every field, archival, repeatable, honest.

Fields 1 to 37 are those of trade-notes.md, "The conformity record, field by field";
the elements of the declaration are those of ISO/IEC 17050-1 (list seen at second hand,
rules-and-standards.md section 5). PDF/A-3: ISO 19005-3.
"""

import copy
import datetime as dt
import io
import json
import re

import pytest
from PIL import Image

from records import chain
from records.documents.conformity.record import draw_conformity, facts_digest, key_name
from records.documents.keys import make_keys
from records.documents.seal import seal_facts
from tests import finished
from tests.documents import conformity_sample, reading

pytestmark = pytest.mark.django_db
AT = conformity_sample.AT
built, facts = finished.built, conformity_sample.facts
SEAL = "eyJhbGciOiJFZDI1NTE5Iiwia2lkIjoiS0VZTkFNRSJ9..c2lnbmF0dXJl"


@pytest.fixture(scope="module")
def paper(facts):
    return draw_conformity(facts, SEAL)


@pytest.fixture(scope="module")
def words(paper):
    return reading.text(paper)


def redrawn(facts, **changes):
    """Draw facts with some changed: a path of keys, joined by __, and its value."""
    changed = copy.deepcopy(facts)
    for path, value in changes.items():
        *way, last = path.split("__")
        part = changed
        for key in way:
            part = part[key]
        part[last] = value
    return reading.text(draw_conformity(changed, SEAL))


FIELDS = {
    1: "Conformity record CR00001",
    2: "EXPERIMENTAL OR AMATEUR-BUILT, NO APPROVAL",
    3: "TA-1",
    4: "2026-001",
    5: "right-hand (clockwise, seen from behind); tractor",
    6: "Blades 2",
    7: "1720 mm (67.717 in)",
    8: "1200 mm (47.244 in) at 645 mm (25.394 in), 16.49°",
    9: "TA drawing 1, revision A",
    10: "released",
    11: "3480 g (7.67 lb)",
    12: "4 of Yellow birch, 27.5 mm (1.083 in) each",
    13: "joints 1, 2",
    14: "B102-1 of B102 of L100",
    15: "Edges and tips",
    16: "Finish system",
    17: "Balance weights",
    18: "120.65 mm (4.750 in)",
    19: "24 N·m (17.7 lbf·ft) to 27 N·m (19.9 lbf·ft)",
    20: "After the first flight, after 25 h, then every 50 h.",
    21: "At most 2700 rpm and 75 kW (100.6 hp)",
    22: "36.51° ± 0.5°",
    23: "Fixed pointer at one tip",
    24: "within 2000 g·mm (2.78 oz·in) either way",
    25: "Wood 9.6 %",
    26: "Chord: 8 readings, 8 inside; held on file",
    27: "90 % (at least 75 %)",
    28: "10 Jan 2026",
    29: "None",
    30: "declares under its sole responsibility",
    31: "Every stage of the propeller: independent person",
    32: "None: first release",
    33: "Torque set",
    34: "Store flat and dry, not heated.",
    35: "Notices in force",
    36: "ABCD EFGH JKMN PQRS",
    37: "Sealed bag",
}


@pytest.mark.parametrize("number", FIELDS)
def test_field_is_printed_with_its_number(words, number):
    assert FIELDS[number] in words
    assert re.search(rf"(?<!\d){number} ?[A-Z]", words), (
        f"no field is numbered {number}"
    )


@pytest.mark.parametrize(
    "element",
    [
        "CR00001",  # the declaration's own number
        "Test Airscrew Works 1 Mill Lane shop@example.org",  # who issues it
        "propeller of fields 3 and 4",  # its object
        "conforms to them",  # the statement
        "drawing TA drawing 1, revision A",  # what it conforms to
        "Millbrook, 24 May 2026",  # place and date
        "Mara Holt authorized by the maker",  # name and function
        "It speaks of the propeller as it left the maker.",  # its limits
    ],
)
def test_each_element_of_the_declaration_is_there(words, element):
    assert element in words


def test_pages_are_numbered_one_of_how_many(paper):
    pages = reading.reader(paper).pages
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page.extract_text()


def test_it_is_pdf_a_3a_tagged_with_its_fonts_inside(paper):
    reader = reading.reader(paper)
    metadata = reader.xmp_metadata.stream.get_data().decode()
    assert re.search(r"pdfaid:part(>|=\")3", metadata)
    assert re.search(r"pdfaid:conformance(>|=\")A", metadata)
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert "/StructTreeRoot" in root
    fonts = [
        font.get_object()
        for page in reader.pages
        for font in page["/Resources"]["/Font"].values()
    ]
    assert fonts
    for font in fonts:
        inner = font["/DescendantFonts"][0].get_object()
        descriptor = inner["/FontDescriptor"]
        assert "/FontFile2" in descriptor or "/FontFile3" in descriptor


def test_only_the_shops_own_lettering_is_used(paper):
    names = {
        str(font.get_object()["/BaseFont"])
        for page in reading.reader(paper).pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert all("B612" in name or "Sheet" in name for name in names), names


def test_its_facts_and_their_seal_are_attached(paper, facts):
    attached = reading.reader(paper).attachments
    assert attached["facts.json"] == [chain.canonical(facts)]
    assert attached["facts.jws"] == [SEAL.encode()]
    assert json.loads(attached["facts.json"][0]) == facts


def test_the_same_facts_give_the_same_bytes(paper, facts):
    again = json.loads(chain.canonical(facts))
    assert draw_conformity(again, SEAL) == paper


def test_other_facts_give_another_digest(facts):
    other = copy.deepcopy(facts)
    other["propeller"]["serial"] = "2026-009"
    assert facts_digest(other) != facts_digest(facts)


def test_the_tag_is_decoded_from_the_printed_page(paper):
    result = [text for page in reading.pages(paper) for text in reading.tags(page)]
    assert result == ["HTTP://LOCALHOST:8000/T/ABCDEFGHJKMNPQRS/2026-001"]


def test_the_ledgers_head_and_the_facts_digest_are_printed(words, facts):
    assert " ".join(["55555555"] * 8) in words
    assert facts_digest(facts)[:8] in words
    assert "KEYNAME" in words


def test_names_beyond_the_signers_and_suppliers_are_kept_off(facts, words):
    printed = words + json.dumps(facts)
    assert "Supplier" not in printed
    people = {"Mara Holt", "Ines Perrot"}
    assert all(name in printed for name in people)
    assert "Person " not in printed


def test_an_experimental_propeller_never_names_a_certificate(facts):
    words = redrawn(facts, design__basis_reference="TC P-999")
    assert "TC P-999" not in words
    assert "It is not eligible for a type-certificated aircraft." in words


@pytest.mark.parametrize(
    ("basis", "title"),
    [
        ("certificated", "CERTIFICATED"),
        ("light_sport", "STANDARD FOR LIGHT-SPORT PROPELLERS"),
    ],
)
def test_another_basis_names_its_reference_and_claims_no_airworthiness(
    facts, basis, title
):
    words = redrawn(facts, design__basis=basis, design__basis_reference="REF 12")
    assert title in words
    assert "REF 12" in words
    assert "airworthy" not in words.lower()
    assert "condition for safe" not in words


def test_a_replacement_says_what_it_replaces_and_why(facts):
    old = {
        "number": "CR00001",
        "issue": 1,
        "issued_at": "2026-05-24T20:00:00Z",
        "reason": "Paper lost",
    }
    words = redrawn(facts, record__number="CR00002", record__replaces=old)
    assert "Replaces CR00001, issue 1 of 24 May 2026: Paper lost" in words
    assert "Original" not in words


def test_a_concession_is_printed_in_plain_words(facts):
    concession = {
        "number": "D0004",
        "decision": "use as is",
        "words": "One blade is 4 mm wider.",
        "accepted_by": "Drawing office, note 14",
        "at": "2026-05-20T08:00:00Z",
    }
    words = redrawn(facts, concessions=[concession])
    assert "D0004 use as is One blade is 4 mm wider. Drawing office, note 14" in words
    assert "with the concessions of field 29" in words


def test_a_notice_that_forbids_flying_is_printed_loud(facts):
    notice = {
        "number": "N001",
        "title": "Hub cracks",
        "text": "Look.",
        "do_not_fly": True,
        "issued_at": "2026-05-20T08:00:00Z",
    }
    assert "Hub cracks. DO NOT FLY until it is done" in redrawn(facts, notices=[notice])


def test_service_and_earlier_designations_are_printed_after_a_repair(facts):
    work = {
        "kind": "work done",
        "at": "2027-01-02T08:00:00Z",
        "hours": "120.5",
        "work": "Tips refinished",
    }
    struck = {
        "before": "TA-1 revision A",
        "after": "TA-1 revision B",
        "at": "2027-01-02T08:00:00Z",
        "reason": "Shortened",
    }
    words = redrawn(facts, service=[work], propeller__designated=[struck])
    assert "2 Jan 2027: work done: at 120.5 h: Tips refinished" in words
    assert "from TA-1 revision A to TA-1 revision B. Shortened" in words


def test_the_kind_of_check_is_printed_as_it_was(facts):
    kinds = [
        {"kind": "self-check", "stages": ["Hub", "Finish"]},
        {"kind": "same person after the shop's delay", "stages": ["Release"]},
    ]
    words = redrawn(facts, inspection__kinds=kinds)
    assert "self-check: Hub, Finish" in words
    assert "same person after the shop's delay: Release" in words


def test_the_photo_of_the_stamp_is_shown(facts):
    picture = io.BytesIO()
    Image.new("RGB", (320, 200), "#c07030").save(picture, "JPEG")
    changed = copy.deepcopy(facts)
    changed["stamp_photo"] = {
        "sha256": "0" * 64,
        "caption": "Stamp on the hub",
        "taken_at": "2026-05-20T08:00:00Z",
    }
    pdf = draw_conformity(changed, SEAL, stamp_photo=picture.getvalue())
    assert "Stamp on the hub Taken 20 May 2026" in reading.text(pdf)
    assert any(page.images for page in reading.reader(pdf).pages)


def test_a_shop_that_thinks_in_inches_gets_letter_and_inches_first(facts):
    changed = copy.deepcopy(facts)
    changed["record"]["units_first"] = "inch"
    pdf = draw_conformity(changed, SEAL)
    assert "67.717 in (1720 mm)" in reading.text(pdf)
    box = reading.reader(pdf).pages[0].mediabox
    assert (float(box.width), float(box.height)) == (612, 792)


def test_letters_beyond_the_shops_lettering_are_still_embedded(facts):
    assert "Łukasz Čapek" in redrawn(facts, record__signer="Łukasz Čapek")


def test_the_key_is_read_from_a_seal(tmp_path):
    keys = make_keys(tmp_path, "Test", dt.datetime(2026, 1, 1, tzinfo=dt.UTC))
    seal = seal_facts(b"{}", keys.private_jwk, keys.public.name)
    assert key_name(seal) == keys.public.name
    assert key_name("") == key_name("%%%..x") == ""
