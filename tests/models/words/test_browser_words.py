"""A browser in plain words, never in its own."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.words.browser import BROWSERS, DEVICES, browser_words

KNOWN = {words for _, words in (*BROWSERS, *DEVICES)} | {"a browser", "an unknown device"}
CHROME = "Mozilla/5.0 (X11; Linux x86_64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/128.0.0.0 Safari/537.36"
PHONE = "Mozilla/5.0 (iPhone; CPU iPhone OS 18_1 like Mac OS X) AppleWebKit/605.1.15 Version/18.1 Mobile Safari/604.1"


@pytest.mark.parametrize(
    ("header", "words"),
    [
        ("Mozilla/5.0 (Windows NT 10.0; Win64; x64; rv:130.0) Gecko/20100101 Firefox/130.0", "Firefox on Windows"),
        (CHROME, "Chrome on Linux"),
        (CHROME + " Edg/128.0.0.0", "Edge on Linux"),
        (PHONE, "Safari on an iPhone"),
        ("Mozilla/5.0 (Android 14; Mobile; rv:130.0) Gecko/130.0 Firefox/130.0", "Firefox on Android"),
        ("curl/8.5.0", "an unknown browser"),
        ("something (Windows)", "a browser on Windows"),
        ("", "an unknown browser"),
    ],
)
def test_what_common_browsers_say(header, words):
    assert browser_words(header) == words


@given(st.text(max_size=3000))
def test_only_our_own_words_come_out(header):
    told = browser_words(header)
    assert told == "an unknown browser" or set(told.split(" on ")) <= KNOWN
