"""The trade: light, street and kit. Knows no web."""
