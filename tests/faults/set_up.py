"""Open a shop with eight makers: run as a program of its own, on its own book."""

import django
from django.core.management import call_command

from tests.credentials import PASSWORD

PEOPLE = [f"maker{n}" for n in range(8)]


def main():
    django.setup()
    call_command("migrate", verbosity=0)
    call_command("collectstatic", interactive=False, verbosity=0)

    from records.models import Person  # noqa: PLC0415 - after setup
    from records.services.people.accounts import add_person  # noqa: PLC0415
    from tests.whole_book import write_book  # noqa: PLC0415

    book = write_book()
    for login in PEOPLE:
        add_person(
            act=book.act,
            login=login,
            name=login.capitalize(),
            role=Person.Role.MAKER,
            password=PASSWORD,
        )


if __name__ == "__main__":
    main()
