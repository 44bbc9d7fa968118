"""What people do at a screen, one small step at a time."""
