"""Write suppliers into a test's book until stopped: run as a process of its own."""

import json
import os
import uuid

import django
from django.db import connection
from django.utils import timezone


def main():
    django.setup()
    engine, name = json.loads(os.environ["BOOK"])
    assert connection.settings_dict["ENGINE"] == engine
    connection.settings_dict["NAME"] = name

    from records.models import Person  # noqa: PLC0415 - after setup
    from records.services.ledger import Act  # noqa: PLC0415
    from records.services.lots import add_supplier  # noqa: PLC0415

    owner = Person.objects.get(login="owner")
    print("writing", flush=True)  # noqa: T201
    while True:
        act = Act(by=owner, at=timezone.now())
        add_supplier(act=act, name=f"Supplier {uuid.uuid4()}")


if __name__ == "__main__":
    main()
