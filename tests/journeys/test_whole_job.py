"""From an empty book to a conformity record, as people do it at their phones.

The glue-up was kept on paper twelve days ago and is typed in now: late entries.
"""

import datetime as dt

import pytest
from django.conf import settings
from django.utils import timezone

from records.documents.keys import make_keys
from records.queries.subjects import find
from records.queries.trace.history import where_from
from tests.documents.reading import text
from tests.journeys.steps import bench, gluing, opening, papers, stock, wood
from tests.journeys.steps.gluing import HOUR, MINUTE, minute
from tests.journeys.steps.hand import Hand

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.once]
DAY = dt.timedelta(days=1)
BLANK_STAGES = ("saw", "dry-stack", "glue-up", "press", "coupon", "rest")
STAGES = (
    "rough-shape",
    "hub",
    "finish-shape",
    "first-balance",
    "edge-tip",
    "finish",
    "marking",
    "final-balance",
    "release",
)


@pytest.fixture
def now():
    moment = timezone.now().replace(second=0, microsecond=0)
    make_keys(settings.DATA, "Saltmarsh Airscrew Works", moment)
    return moment


def test_from_an_empty_book_to_a_record_that_can_be_followed(browser, live_server, now):
    base, begun = live_server.url, now - 40 * DAY
    owner = open_shop(browser, base, now, f"{begun:%Y-%m-%d}")
    maker = opening.sign_in(browser, base, "bram", "Bram Oakes")
    inspector = opening.sign_in(browser, base, "maud", "Maud Ferris")
    maker.look("today, nothing yet")

    lots = take_in(maker, inspector, begun)
    boards = prepare_boards(maker, inspector, lots[0], begun)
    blank = stack(maker, inspector, boards, minute(now - 12 * DAY))
    glued = glue(maker, inspector, blank, now - 12 * DAY)
    serial = carve(maker, inspector, blank)
    papers.release(owner, serial)
    record = papers.issue(owner)

    pdf = papers.printed(owner, record)
    assert f"{serial}" in text(pdf)
    address = papers.scanned(pdf)
    assert address.lower().startswith(base.lower())
    assert serial in address
    stranger = Hand(browser, base, "somebody")
    sees(stranger, address, serial, record)
    follow(maker, address, serial)
    everything = [*lots, *boards, blank, *glued, record]
    missing = [number for number in everything if number not in maker.text]
    assert missing == []
    assert all_signed(serial)


def open_shop(browser, base, now, day):
    owner = opening.open_the_book(browser, base, now)
    opening.fill_in_the_shop(owner)
    opening.add_people(owner)
    stock.add_gauges(owner, day)
    stock.add_materials(owner)
    stock.add_press(owner)
    stock.add_route(owner)
    stock.draw(owner)
    return owner


def take_in(maker, inspector, begun):
    """Receive and accept wood, resin and powder; sign the receipt of the wood."""
    day, later = f"{begun:%Y-%m-%d}", f"{begun + 400 * DAY:%Y-%m-%d}"
    wooden = stock.receive(maker, "White ash", "RB-131", day)
    resin = stock.receive(maker, "Fenbond resin", "FB-2207", day, later)
    powder = stock.receive(maker, "Fenbond powder", "FP-0418", day, later)
    maker.look("a lot waiting")
    for lot in (wooden, resin, powder):
        stock.accept(inspector, lot, minute(begun + 12 * HOUR))
    inspector.look("a lot accepted")
    page = f"/signoffs/lot/{wooden}/timber-receipt/"
    bench.do(maker, inspector, page, moment=minute(begun + 13 * HOUR))
    return wooden, resin, powder


def prepare_boards(maker, inspector, lot, begun):
    """Number, inspect and condition two boards."""
    boards = wood.add_boards(maker, lot, 2)
    for board in boards:
        wood.inspect(inspector, board, minute(begun + DAY))
        page = f"/signoffs/board/{board}"
        at = minute(begun + 25 * HOUR)
        bench.do(maker, inspector, f"{page}/board-inspection/", moment=at)
        at = minute(begun + 24 * DAY)
        bench.work(maker, f"{page}/conditioning/", moment=at)
        bench.sign(maker)
    maker.go(f"/boards/at/{boards[0]}/").look("a board")
    return boards


def stack(maker, inspector, boards, moment):
    """Saw three laminations, lay them, and fix the order."""
    pieces = wood.saw(maker, boards[0], 2) + wood.saw(maker, boards[1], 1)
    blank = wood.lay(maker, pieces)
    wood.prepare(maker, inspector, blank, moment)
    maker.look("glue-up begun")
    return blank


def glue(maker, inspector, blank, begun):
    """Glue with two mixes, press, break two coupons, and let it rest."""
    mixes = gluing.glue_up(maker, blank, begun + HOUR)
    on_at = begun + 80 * MINUTE
    load = gluing.press(maker, inspector, blank, on_at)
    page = wood.stage(blank, "glue-up")
    bench.work(maker, page, moment=minute(begun + HOUR))
    bench.sign(maker)
    coupons = [gluing.break_coupon(maker, m, begun + 2 * HOUR) for m in mixes]
    bench.do(maker, inspector, wood.stage(blank, "coupon"))
    bench.work(maker, wood.stage(blank, "rest"))
    bench.sign(maker)
    maker.look("a blank glued")
    return [*mixes, load, *coupons]


def carve(maker, inspector, blank):
    """Start a propeller and take it through every stage; gives its serial."""
    maker.go(f"/builds/blanks/{blank}/").next().look("start a propeller")
    maker.press()
    serial = maker.title.split()[-1]
    maker.look("a propeller started")
    for code in STAGES:
        page = f"/signoffs/propeller/{serial}/{code}/"
        look = "a reading" if code == "first-balance" else ""
        bench.work(maker, page, look=look)
        inspector.go(maker.path).look(f"sign {code}")
        bench.sign(inspector)
    maker.go(f"/builds/propellers/{serial}/").look("a propeller finished")
    return serial


def sees(stranger, address, serial, record):
    """Scan the paper as somebody who is not of the shop."""
    stranger.page.goto(address)
    stranger.look("what a stranger sees")
    for words in ("Bittern 52", serial, record):
        assert words in stranger.text
    for private in ("Bram Oakes", "Maud Ferris", "Reedbank", "FB-2207"):
        assert private not in stranger.text


def follow(maker, address, serial):
    """Scan the paper as the maker who is signed in, and open all there is to see."""
    maker.page.goto(address)
    assert maker.path == f"/trace/serial/{serial}/"
    for shut in maker.page.locator("main details").all():
        shut.evaluate("e => e.open = true")
    maker.look("the history")


def all_signed(serial):
    """Tell whether every stage of the blank and the propeller was signed."""
    signed = {
        s.stage.code for s in where_from(find("propeller", serial)).written.signoffs
    }
    return signed >= {*BLANK_STAGES, *STAGES}
