"""Havenmark, an invented harbour town: plain files, see README.md."""
