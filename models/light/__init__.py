"""Light on the subject and what a flash can do about it."""
