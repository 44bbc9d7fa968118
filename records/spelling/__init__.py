"""How things are spelled, on screen, on paper and in an export: here and nowhere else.

A `Decimal` is what somebody read and keeps its digits; a `float` was computed and is
rounded. A unit is bound to its number, a minus is a true minus, and the shop's own
units come first.
"""
