"""The checks that every page goes through find what is wrong, at either width, in either light, and forget it after."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.browser

PAGE = """<!doctype html><html lang="en"><head><title>Page</title><style>body {{ background: white; color: black }}
{css}</style></head><body><main><h1>Page</h1>{body}</main></body></html>"""
DARK, DESK, PHONE = "(prefers-color-scheme: dark)", "(min-width: 400px)", "(max-width: 400px)"
WRONG = {
    "pale in the light": (f"p {{ color: #ddd }} @media {DARK} {{ p {{ color: black }} }}", "<p>word</p>", "contrast"),
    "pale in the dark": (f"@media {DARK} {{ p {{ color: #ddd }} }}", "<p>word</p>", "contrast"),
    "nameless": ("", "<button></button>", "button-name"),
    "nameless on a desk": (f"@media {PHONE} {{ button {{ display: none }} }}", "<button></button>", "button-name"),
    "nameless on a phone": (f"@media {DESK} {{ button {{ display: none }} }}", "<button></button>", "button-name"),
    "too wide for a phone": (f"@media {PHONE} {{ p {{ width: 700px }} }}", "<p>word</p>", "375"),
}


@pytest.mark.parametrize("wrong", WRONG)
def test_what_is_wrong_is_found(page, assert_sound, wrong):
    css, body, said = WRONG[wrong]
    page.set_content(PAGE.format(css=css, body=body))
    with pytest.raises(AssertionError, match=said):
        assert_sound(page)


def test_what_is_right_passes(page, assert_sound):
    page.set_content(PAGE.format(css="", body="<p>word</p>"))
    assert_sound(page)
    assert page.viewport_size == {"width": 375, "height": 800}


@pytest.mark.parametrize("address", ["http://tiles.example/1.png", "http://192.0.2.7/1.png"])
def test_a_request_off_this_machine_is_seen_and_goes_nowhere(page, watch, address):
    watch.expected.append("ERR_NAME_NOT_RESOLVED")
    with page.expect_event("requestfailed") as failed:
        page.set_content(f'<img src="{address}">')
    assert failed.value.failure == "net::ERR_NAME_NOT_RESOLVED"
    assert watch.problems == [f"request to {address}"]
    watch.problems.clear()


def test_words_on_the_console_are_seen(page, watch):
    with page.expect_console_message():
        page.evaluate("console.warn('loose')")
    assert watch.problems == ["console warning: loose"]
    watch.problems.clear()


@pytest.mark.parametrize("time", ["first", "again"])
def test_nothing_of_one_test_is_left_for_the_next(page, context, time):
    seen = "[matchMedia('print').matches, matchMedia('(prefers-color-scheme: dark)').matches, innerWidth]"
    assert (context.cookies(), page.evaluate(seen), page.url) == ([], [False, False, 1280], "about:blank"), time
    page.goto("/settings")
    page.emulate_media(media="print", color_scheme="dark")
    page.set_viewport_size({"width": 375, "height": 700})
    assert (len(context.cookies()), page.evaluate(seen)) == (1, [True, True, 375])
