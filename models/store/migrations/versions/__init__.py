"""One file a change."""
