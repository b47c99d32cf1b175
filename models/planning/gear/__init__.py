"""Kit pages: what is owned, each piece as typed, files in and out, and readings of your own flashes."""
