"""How much one shop's server holds: `python -m tests.faults.load`.

Figures depend on the machine; what counts is how they change from one browser to eight.
"""

import tempfile
import threading
import time
from pathlib import Path

from tests.faults.set_up import PEOPLE
from tests.faults.shop import Shop

SECONDS = 10


class Browser(threading.Thread):
    """One person who does the same thing over and over."""

    def __init__(self, client, deed):
        super().__init__()
        self.client = client
        self.deed = deed
        self.took = []

    def run(self):
        ends = time.monotonic() + SECONDS
        while (began := time.monotonic()) < ends:
            status = self.deed(self.client)
            assert status in {200, 302}, status
            self.took.append(time.monotonic() - began)


def measure(shop, deed, how_many):
    """Give requests a second, and the time within which 95 of 100 were answered [s]."""
    clients = [shop.client(login) for login in PEOPLE[:how_many]]
    browsers = [Browser(client, deed) for client in clients]
    for browser in browsers:
        browser.start()
    for browser in browsers:
        browser.join()
    took = sorted(seconds for browser in browsers for seconds in browser.took)
    return len(took) / SECONDS, took[int(0.95 * len(took))]


def write(client):
    return client.add_supplier(f"Supplier {time.monotonic_ns()} {id(client)}")


def read(client):
    return client.get("/lots/")[0]


def main():
    with tempfile.TemporaryDirectory() as folder:
        shop = Shop(Path(folder) / "shop")
        shop.folder.mkdir()
        shop.set_up().start()
        try:
            for name, deed in (("saves", write), ("pages", read)):
                one, slow_one = measure(shop, deed, 1)
                eight, slow_eight = measure(shop, deed, 8)
                print(  # noqa: T201
                    f"{name}: {one:.0f}/s by one browser, {eight:.0f}/s by eight "
                    f"(ratio {eight / one:.2f}); 95 % within {slow_one * 1000:.0f} and "
                    f"{slow_eight * 1000:.0f} ms"
                )
        finally:
            shop.kill()
        print(f"the book has {len(shop.breaks())} breaks")  # noqa: T201


if __name__ == "__main__":
    main()
