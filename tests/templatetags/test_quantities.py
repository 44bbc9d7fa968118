"""The filters that templates use."""

import datetime as dt

from django.template import Context, Template


def test_filters_work_in_a_template(settings):
    settings.TIME_ZONE = "Europe/Berlin"
    template = Template("{% load quantities %}{{ at|when }}; {{ 'g.mm'|unit_name }}")
    at = dt.datetime(2026, 3, 2, 12, 0, tzinfo=dt.UTC)
    assert template.render(Context({"at": at})) == "2 Mar 2026, 13:00; g·mm"
