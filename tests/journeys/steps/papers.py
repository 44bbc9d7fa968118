"""Release, the conformity record, and its tag read off the printed page."""

from tests.documents.reading import pages, tags
from tests.journeys.steps.opening import PASSWORD


def release(owner, serial):
    """Release a propeller whose stages are all signed."""
    owner.go(f"/conformity/release/{serial}/").look("release")
    owner.fill(password=PASSWORD).press()


def issue(owner):
    """Issue the record that the page after the release asks for; gives its number."""
    owner.fill(packing="Sealed bag in a crate; keep it closed.", password=PASSWORD)
    owner.look("issue a record").press().look("a conformity record")
    return owner.title.split()[-1]


def printed(owner, number):
    """Fetch the record's PDF as the owner's browser does."""
    address = f"{owner.base}/conformity/record/{number}/pdf/"
    answer = owner.context.request.get(address)
    assert answer.headers["content-type"] == "application/pdf"
    return answer.body()


def scanned(pdf):
    """Read the tag off the printed pages, as a telephone does."""
    result = {text for page in pages(pdf) for text in tags(page)}
    assert len(result) == 1, result
    return result.pop()
