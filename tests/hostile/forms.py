"""Every form of the program, as its page makes it, and again with other answers."""

import copy
import importlib
import pkgutil

from django import forms

import records.web
from records.web.shared.forms import ShopForm
from tests.hostile.world import more_paths
from tests.web.addresses import addresses


def every_form_class():
    """Import every module of the web floor, and list the forms that it has."""
    for info in pkgutil.walk_packages(records.web.__path__, "records.web."):
        importlib.import_module(info.name)
    return sorted(set(_below(ShopForm)), key=lambda c: (c.__module__, c.__name__))


def _below(kind):
    for one in kind.__subclasses__():
        if one.__module__.startswith("records."):
            yield one
        yield from _below(one)


def forms_on_pages(client, things):
    """Open every page, and give the first form of each class with its path."""
    result = {}
    paths = [a.path(things) for a in addresses() if "pdf" not in a.name]
    for path in [*paths, *more_paths(things)]:
        for form in forms_of(client.get(path)):
            result.setdefault((type(form), tuple(form.fields)), (path, form))
    return list(result.values())


def forms_of(answer):
    """Find every form that a page was drawn with."""
    for layer in answer.context or ():
        for value in layer.flatten().values():
            if isinstance(value, forms.BaseForm):
                yield value


def again(form, data, files=None):
    """Make the form anew as its page made it, with these answers."""
    bound = copy.copy(form)
    bound.fields = copy.deepcopy(form.fields)
    bound.data, bound.files = data, files or {}
    bound.is_bound = True
    bound._errors = None
    bound._bound_fields_cache = {}
    return bound
