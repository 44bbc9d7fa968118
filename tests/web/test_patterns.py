"""Every part is shown once, and no page needs a style or script of its own."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TEMPLATES = [
    p
    for p in sorted((ROOT / "templates").rglob("*.html"))
    if "documents" not in p.relative_to(ROOT / "templates").parts
]


def place(path):
    return str(path.relative_to(ROOT / "templates"))


PLAIN = {"what", "info"}  # need no rule of their own
SHEET = (ROOT / "records/static/records/css/shop.css").read_text()


def test_the_page_shows_every_part(signed_in):
    html = signed_in.get("/patterns/").content.decode()
    for part in ("verdict", "reading", "facts", "findings", "caution", "actions"):
        assert part in html
    assert "Not saved." in html
    assert html.count('class="shape"') >= 9


def test_the_style_sheet_stays_small_and_starts_with_its_tokens():
    assert SHEET.count("\n") <= 600
    assert SHEET.index(":root") < SHEET.index("body {")


# WCAG 2.2, 1.4.3: at least 4.5 to 1 for text; the formula is that of "contrast ratio"
# and "relative luminance" in its glossary.
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("ground", ["paper", "tint", "desk"])
@pytest.mark.parametrize(
    "ink", ["ink", "soft", "blue", "inside", "outside", "undecided", "hold"]
)
def test_ink_can_be_read_on_its_ground(scheme, ground, ink):
    tokens = tokens_of(scheme)
    assert contrast(tokens[ink], tokens[ground]) >= 4.5


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    ("ink", "ground"),
    [
        ("on-blue", "blue"),
        ("outside", "outside-tint"),
        ("undecided", "undecided-tint"),
        ("inside", "inside-tint"),
        ("ink", "outside-tint"),
    ],
)
def test_ink_can_be_read_on_its_tint(scheme, ink, ground):
    tokens = tokens_of(scheme)
    assert contrast(tokens[ink], tokens[ground]) >= 4.5


def test_no_template_has_a_style_or_script_of_its_own():
    own = r"\sstyle=|<style|\son[a-z]+=\"|<script(?![^>]*\bsrc=)|(src|href)=\"https?://"
    assert [place(p) for p in TEMPLATES if re.search(own, p.read_text())] == []


def test_every_class_is_in_the_style_sheet():
    known = set(re.findall(r"\.([a-z][a-z-]*)", SHEET)) | PLAIN
    unknown = {place(p): classes_of(p.read_text()) - known for p in TEMPLATES}
    assert {name: classes for name, classes in unknown.items() if classes} == {}


def classes_of(template):
    text = re.sub(r"{[{%].*?[%}]}", " ", template)
    return {c for group in re.findall(r'class="([^"]*)"', text) for c in group.split()}


def tokens_of(scheme):
    light, dark = SHEET.split("@media (prefers-color-scheme: dark)", 1)
    read = re.compile(r"--([a-z-]+): (#[0-9a-f]{6});")
    tokens = dict(read.findall(light))
    if scheme == "dark":
        tokens |= dict(read.findall(dark.split("/* Ground */")[0]))
    return tokens


def contrast(one, other):
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def luminance(colour):
    parts = (int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5))
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
