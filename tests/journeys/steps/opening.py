"""A new shop: set up by its link, its people and what each may decide."""

from records.services.people.accounts import make_set_up_link
from tests.journeys.steps.hand import Hand

PASSWORD = "wind over the marsh"


def open_the_book(browser, base, now):
    """Open the book by the one-time link, as its first owner."""
    owner = Hand(browser, base, "Ines Calder")
    owner.go(f"/set-up/{make_set_up_link(now)}/").look("set up")
    owner.fill(
        shop_name="Saltmarsh Airscrew Works",
        place="Fenny Staithe",
        base_url=base,
        name=owner.who,
        login="ines",
        password=PASSWORD,
    ).press("Open the book")
    owner.look("the first page")
    return owner


def add_people(owner):
    """Give the maker and the inspector their accounts and authorities."""
    _add(owner, "bram", "Bram Oakes", "maker", deeds=("sign",))
    _add(owner, "maud", "Maud Ferris", "inspector", deeds=("sign", "accept"))
    owner.go("/people/").look("people")


def _add(owner, login, name, role, deeds):
    owner.go("/people/add/").fill(
        name=name, role=role.capitalize(), login=login, password=PASSWORD
    )
    owner.press("Add")
    for deed in deeds:
        owner.go(f"/people/at/{login}/grant/").fill(deed=deed).press()


def sign_in(browser, base, login, name):
    """Sign somebody in on a phone of their own."""
    hand = Hand(browser, base, name)
    hand.go("/sign-in/").fill(login=login, password=PASSWORD).press("Sign in")
    return hand


def fill_in_the_shop(owner):
    """Say where the shop is, for its papers."""
    owner.go("/shop/").fill(
        address="The Old Sail Loft\nFenny Staithe",
        contact="workshop@saltmarsh.example",
        serial_pattern="SM{year}-{n:03}",
    ).press()
