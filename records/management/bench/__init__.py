"""Measuring how the book answers when it is large."""
