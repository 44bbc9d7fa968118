"""The spelling of moments and units, as filters for templates."""

from django import template

from records.spelling.moments import when
from records.spelling.units import unit_name

register = template.Library()
register.filter(when)
register.filter(unit_name)
