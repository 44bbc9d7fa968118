"""What is read is of one moment, and nobody waits for it."""

import json
import os
import subprocess
import sys
import time

import pytest
from django.db import connection

from records.models import Supplier
from records.queries.snapshot import one_moment
from tests.own_book import own_book  # noqa: F401


def test_what_is_written_meanwhile_is_not_seen_and_is_not_held_up(own_book):  # noqa: F811
    settings = connection.settings_dict
    with one_moment():
        before = Supplier.objects.count()
        writer = subprocess.Popen(
            [sys.executable, "-m", "tests.services.writer"],
            env=os.environ
            | {"BOOK": json.dumps([settings["ENGINE"], settings["NAME"]])},
            stdout=subprocess.PIPE,
            text=True,
        )
        assert writer.stdout.readline().strip() == "writing"
        time.sleep(0.5)
        writer.terminate()
        writer.communicate()
        assert Supplier.objects.count() == before
    assert Supplier.objects.count() > before


@pytest.mark.django_db
def test_inside_a_transaction_that_one_is_the_moment():
    with one_moment():
        assert not Supplier.objects.exists()


def test_it_ends_where_an_error_ends_it(own_book):  # noqa: F811
    with pytest.raises(ValueError, match="stop"), one_moment():
        raise ValueError("stop")
    own_book.write("Afterwards")
    assert Supplier.objects.exists()
