"""One function a user action: load, compute, save, return plain dataclasses."""
