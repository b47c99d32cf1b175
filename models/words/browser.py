"""A browser described in plain words, from what it says of itself."""

from __future__ import annotations

LONGEST = 1000
BROWSERS = (
    ("Edg", "Edge"),
    ("OPR/", "Opera"),
    ("SamsungBrowser", "Samsung Internet"),
    ("Firefox/", "Firefox"),
    ("FxiOS", "Firefox"),
    ("CriOS", "Chrome"),
    ("Chromium", "Chromium"),
    ("Chrome/", "Chrome"),
    ("Safari/", "Safari"),
)
"""What stands in the header, in the order to look for it: most browsers name several others too."""

DEVICES = (
    ("iPhone", "an iPhone"),
    ("iPad", "an iPad"),
    ("Android", "Android"),
    ("Windows", "Windows"),
    ("Macintosh", "a Mac"),
    ("CrOS", "ChromeOS"),
    ("Linux", "Linux"),
)


def browser_words(user_agent: str) -> str:
    """'Firefox on Windows', 'a browser on Linux', 'an unknown browser'. Never a word of the header itself."""
    told = user_agent[:LONGEST]
    browser = next((words for mark, words in BROWSERS if mark in told), "")
    device = next((words for mark, words in DEVICES if mark in told), "")
    if not browser and not device:
        return "an unknown browser"
    return f"{browser or 'a browser'} on {device or 'an unknown device'}"
