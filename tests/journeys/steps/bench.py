"""At the bench: take what the page asks for next, until it asks for a signature."""

from urllib.parse import parse_qs, urlsplit

from records.management.demo.drawings import PUSHER
from tests.journeys.steps.opening import PASSWORD

MOST = 40
# What this bench reads, by stage and characteristic; "" where the stage is all one.
FIGURES = {
    "moisture": "9.4",
    "grain-slope": "22",
    "days": "21",
    "room-temperature": "22.4",
    "room-humidity": "47",
    "weekly-change": "0.1",
    "mass": "2600",
    "pair-mass": "1.2",
    "thickness": "29.02",
    "gap": "0.04",
    "gauge-pressure": "10.6",
    "lowest-pressure": "10.4",
    "lowest-temperature": "21.9",
    "slip": "0.3",
    "straightness": "0.8",
    "surplus": "1.6",
    "bore": "30.02",
    "bolt-hole": "8.12",
    "bolt-circle": "0.08",
    "length": "660.5",
    "horizontal": "420",
    "vertical": "-180",
    "coats": "3",
    "cure-days": "12",
    "tip": "0.2",
    "hub-thickness": "86.02",
    ("hub", "thickness"): "86.02",
    ("final-balance", "mass"): "1790",
    "marked": "Bittern 52 D 1321 P 762 LH 3300 max",
}


def work(hand, page, *, moment="", look=""):
    """Follow the next action from a page and log all, up to the signature."""
    hand.go(page)
    for _ in range(MOST):
        if _asks_for_a_signature(hand):
            return hand
        if hand.path.startswith("/readings/log/"):
            log(hand, moment)
        elif hand.path.startswith("/readings/grid/"):
            fill_grid(hand, moment)
        if look:
            hand.look(look)
            look = ""
        hand.next()
    raise AssertionError(f"{page} goes on and on: now at {hand.path}")


def _asks_for_a_signature(hand):
    step = hand.page.locator(".title-block .next a.button.main")
    there = step.get_attribute("href") if step.count() else "#signature"
    return hand.path.startswith("/signoffs/") and there == "#signature"


def log(hand, moment=""):
    """Log the one reading that the page asks for."""
    characteristic = parse_qs(urlsplit(hand.path).query)
    code, stage = characteristic["characteristic"][0], characteristic["stage"][0]
    if hand.page.locator('main [name="entered"]').first.evaluate("e => e.type") == (
        "radio"
    ):
        hand.fill(entered="yes")
    else:
        hand.fill(entered=FIGURES.get((stage, code)) or FIGURES[code])
    if moment:
        hand.fill(happened_at=moment)
    hand.press("Log it")


def fill_grid(hand, moment=""):
    """Fill every empty place of a station grid, as drawn."""
    drawn = PUSHER.stations()
    for cell in hand.page.locator("main table.grid input").all():
        place = cell.get_attribute("aria-label")
        cell.fill(_at(place, drawn))
    if moment:
        hand.fill(happened_at=moment)
    hand.look("a grid filled in").press("Log them")


def _at(place, drawn):
    what = place.split(",")[0].lower()
    if "length" in what:
        return FIGURES["length"]
    if "surplus" in what:
        return FIGURES["surplus"]
    if "pointer" in what:
        return FIGURES["tip"]
    station = next(s for s in drawn if f" {s['radius_mm']} mm" in f" {place}")
    column = {"blade angle": "angle_deg", "chord": "chord_mm"}.get(what, "thickness_mm")
    return str(station[column])


def sign(hand, page=""):
    """Sign the stage that the page shows, as the kind of check it is."""
    if page:
        hand.go(page)
    meaning = hand.page.locator('main [name="meaning"]').nth(1)
    meaning.check()
    hand.fill(password=PASSWORD).press("Sign")
    assert "is signed" in hand.says, hand.text
    return hand


def do(maker, inspector, page, **how):
    """Let the maker read a stage, and the inspector sign it."""
    work(maker, page, **how)
    sign(inspector, maker.path)
