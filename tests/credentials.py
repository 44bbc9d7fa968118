"""The password of everybody in a test: Django need not be set up to know it."""

PASSWORD = "a long bench password"
