"""Dataclass in, SVG out."""
