"""The workshop on the pavement: who does what, and what could go wrong."""
