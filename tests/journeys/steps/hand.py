"""A hand at a screen: it fills forms by their names, presses, and goes on."""

import os
import re
from pathlib import Path

PHONE, DESK = {"width": 390, "height": 844}, {"width": 1280, "height": 800}
FOLDER = os.environ.get("SCREENSHOTS", "")
LONG_MS = 30_000


class Hand:
    """Somebody at a phone 390 pixels wide."""

    def __init__(self, browser, base, who):
        self.base, self.who = base, who
        self.context = browser.new_context(viewport=PHONE)
        self.context.set_default_timeout(LONG_MS)
        self.page = self.context.new_page()
        self.page.on("pageerror", self._complain)

    def _complain(self, error):
        raise AssertionError(f"{self.path}: {error}")

    @property
    def path(self):
        """Where the hand is, without the address of the shop."""
        return self.page.url.removeprefix(self.base)

    def go(self, path):
        """Open a page of the shop."""
        answer = self.page.goto(f"{self.base}{path}")
        assert answer.ok, f"{path} answers {answer.status}"
        return self

    def fill(self, **answers):
        """Answer the fields of the form on this page, by name."""
        for name, value in answers.items():
            self._answer(name, value)
        return self

    def _answer(self, name, value):
        field = self.page.locator(f'main [name="{name}"]')
        kind = field.first.evaluate("e => e.type")
        if kind == "radio":
            self.page.locator(f'main [name="{name}"][value="{value}"]').check()
        elif kind == "checkbox":
            for one in value if isinstance(value, list) else [value]:
                label = self.page.locator("main label", has_text=str(one))
                label.locator(f'[name="{name}"]').check()
        elif kind.startswith("select"):
            field.select_option(label=self._option(field, value))
        elif kind == "file":
            field.set_input_files(value)
        else:
            field.fill(str(value))

    def _option(self, field, value):
        """Find the one option that has this in it, as somebody's eye does."""
        labels = field.locator("option").all_inner_texts()
        wanted = str(value).lower()
        result = [x for x in labels if wanted == x.lower()] or [
            x for x in labels if wanted in x.lower()
        ]
        assert result, f"{value!r} is not among {labels}"
        return result[0]

    def press(self, label=""):
        """Press the form's button; what was refused is said aloud."""
        buttons = self.page.locator("main form button.main")
        button = buttons.filter(has_text=label).first if label else buttons.first
        before = self.path
        with self.page.expect_navigation():
            button.click()
        wrong = self.page.locator("main .is-wrong, main .wrong-whole")
        if wrong.count():
            said = " | ".join(wrong.all_inner_texts())
            raise AssertionError(f"{before}: {said}")
        return self

    def next(self):
        """Press the one clear next action of the page."""
        step = self.page.locator(".title-block .next a.button.main")
        assert step.count() == 1, f"{self.path} says nothing to do next: {self.text}"
        step.click()
        self.page.wait_for_load_state("domcontentloaded")
        return self

    def follow(self, label):
        """Press a link by its words."""
        link = self.page.locator("main").get_by_role("link", name=label, exact=True)
        link.first.click()
        self.page.wait_for_load_state("domcontentloaded")
        return self

    @property
    def says(self):
        """What the page said was done."""
        return " ".join(self.page.locator(".messages .message").all_inner_texts())

    @property
    def text(self):
        """All the words of the page."""
        return " ".join(self.page.locator("main").inner_text().split())

    @property
    def title(self):
        return self.page.locator("main h1").inner_text()

    def look(self, name):
        """Keep a picture of the page at both widths, where pictures are wanted."""
        if not FOLDER:
            return self
        number = len(list(Path(FOLDER).glob("*-390.png")))
        for width, size in (("390", PHONE), ("1280", DESK)):
            self.page.set_viewport_size(size)
            file = Path(FOLDER) / f"{number:03}-{_slug(name)}-{width}.png"
            self.page.screenshot(path=file, full_page=True)
        self.page.set_viewport_size(PHONE)
        return self

    def leave(self):
        self.context.close()


def _slug(name):
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")
