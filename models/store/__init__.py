"""Tables by feature; hands over frozen dataclasses, never rows."""
