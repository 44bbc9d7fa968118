"""What a browser would run of a page, and what is in it that no page may have."""

from html.parser import HTMLParser

# What a browser never runs, although it stands in a script element.
DATA = {"application/json", "application/ld+json"}


class Inline(HTMLParser):
    """Collects scripts, styles and handlers that stand in a page itself."""

    def __init__(self):
        super().__init__()
        self.found = []

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        if tag == "script" and "src" not in given and given.get("type") not in DATA:
            self._keep(tag, "a script in the page")
        if tag == "style":
            self._keep(tag, "a style in the page")
        if tag in {"iframe", "object", "embed", "base", "applet"}:
            self._keep(tag, "an element that no page has")
        for name, value in attrs:
            self._look_at(tag, name, value or "")

    def handle_startendtag(self, tag, attrs):
        self.handle_starttag(tag, attrs)

    def _look_at(self, tag, name, value):
        if name.startswith("on"):
            self._keep(tag, f"a handler {name}")
        if name == "style":
            self._keep(tag, f"a style attribute {value!r}")
        link = "".join(value.split()).lower()
        if name in {"href", "src", "action", "formaction", "xlink:href"} and (
            link.startswith(("javascript:", "vbscript:", "data:text"))
        ):
            self._keep(tag, f"a link {value!r}")

    def _keep(self, tag, what):
        line, _ = self.getpos()
        self.found.append(f"line {line}: <{tag}> {what}")


def inline(html):
    """List what stands in a page that its policy forbids."""
    reader = Inline()
    reader.feed(html)
    return reader.found
