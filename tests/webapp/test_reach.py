"""How far the program is reached: never beyond this machine without HTTPS and sign-in, and in words that say how."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import click
import pytest
import trustme

from tests.webapp.account.conftest import FAST
from webapp.commands.reach import Asked, apply, decided

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
EVERYWHERE = "0.0.0.0"  # noqa: S104  nothing listens there in these tests
BEYOND = (EVERYWHERE, "::", "192.168.1.4", "8.8.8.8", "2001:db8::1", "::ffff:127.0.0.1", "169.254.1.1")


@pytest.fixture(scope="module")
def pair(tmp_path_factory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("tls")
    made = trustme.CA().issue_cert(
        "plans.example", "*.town.example", not_before=NOW - timedelta(days=1), not_after=NOW + timedelta(days=1)
    )
    made.private_key_pem.write_to_path(str(folder / "key.pem"))
    made.cert_chain_pems[0].write_to_path(str(folder / "certificate.pem"))
    return {"certificate": folder / "certificate.pem", "key": folder / "key.pem"}


def refusal(**asked) -> str:
    with pytest.raises(click.ClickException) as refused:
        decided(Asked(**asked), NOW)
    return refused.value.message


@pytest.mark.parametrize("host", BEYOND)
def test_beyond_this_machine_it_refuses_and_says_what_to_do(host):
    told = refusal(host=host)
    for option in ("--certificate FILE", "--key FILE", "--behind-proxy NAME", "--host"):
        assert option in told
    assert told.count(".") == 1  # one sentence


@pytest.mark.parametrize("host", ["", "example.org", "127.1", "a_b", "\x1b[31m", "0x7f000001", "1.2.3.4/8"])
def test_what_is_no_address_is_refused(host):
    told = refusal(host=host)
    assert "--host takes an address of this machine" in told
    assert "\x1b" not in told


@pytest.mark.parametrize("host", BEYOND)
def test_with_a_certificate_sign_in_is_on_and_only_its_names_are_answered(host, pair):
    reach = decided(Asked(host=host, **pair), NOW)
    assert (reach.sign_in, reach.https, reach.by_proxy) == (True, True, False)
    assert reach.names == ("plans.example",)
    assert reach.address(8430) == "https://plans.example:8430/"
    assert reach.address(443) == "https://plans.example/"


@pytest.mark.parametrize("host", [*BEYOND, "127.0.0.1"])
def test_behind_a_proxy_sign_in_is_on_even_on_loopback_and_only_its_name_is_answered(host):
    reach = decided(Asked(host=host, proxy="Plans.Example"), NOW)
    assert (reach.sign_in, reach.https, reach.by_proxy) == (True, True, True)
    assert reach.names == ("plans.example",)
    assert reach.address(8430) == "https://plans.example/"


def test_a_proxy_may_have_a_port():
    reach = decided(Asked(proxy="plans.example:8443"), NOW)
    assert (reach.names, reach.address(8430)) == (("plans.example",), "https://plans.example:8443/")


@pytest.mark.parametrize(
    ("host", "address", "shown"),
    [
        ("localhost", "127.0.0.1", "http://127.0.0.1:8430/"),
        ("127.0.0.7", "127.0.0.7", "http://127.0.0.7:8430/"),
        ("[::1]", "::1", "http://[::1]:8430/"),
    ],
)
def test_on_loopback_sign_in_is_off_unless_asked_for(host, address, shown):
    reach = decided(Asked(host=host), NOW)
    assert (reach.host, reach.address(8430), reach.sign_in, reach.https) == (address, shown, False, False)
    assert {"127.0.0.1", "localhost", "[::1]"} <= set(reach.names)
    assert decided(Asked(host=host, sign_in=True), NOW).sign_in


def test_a_certificate_on_loopback_answers_to_the_machines_names_too(pair):
    reach = decided(Asked(**pair), NOW)
    assert (reach.sign_in, reach.https) == (False, True)
    assert reach.names == ("plans.example", "localhost", "[::1]", "127.0.0.1")


def test_names_of_the_certificate_can_be_chosen(pair):
    chosen = decided(Asked(host=EVERYWHERE, names=("Quay.Town.example",), **pair), NOW)
    assert chosen.names == ("quay.town.example",)
    for name in ("town.example", "a.quay.town.example", "other.example"):
        assert refusal(host=EVERYWHERE, names=(name,), **pair) == f"--name: the certificate is not for {name}."


def test_a_certificate_of_patterns_alone_needs_a_name(tmp_path):
    made = trustme.CA().issue_cert("*.town.example", not_before=NOW - timedelta(days=1))
    made.private_key_pem.write_to_path(str(tmp_path / "k"))
    made.cert_chain_pems[0].write_to_path(str(tmp_path / "c"))
    assert "--name NAME" in refusal(host=EVERYWHERE, certificate=tmp_path / "c", key=tmp_path / "k")


def test_options_that_do_not_go_together_are_said(pair, tmp_path):
    assert "give both" in refusal(certificate=pair["certificate"])
    assert "give both" in refusal(key=pair["key"])
    assert "not both" in refusal(proxy="plans.example", **pair)
    assert "--name goes with --certificate" in refusal(names=("plans.example",))
    assert refusal(certificate=tmp_path / "gone", key=pair["key"]) == "--certificate: there is no file gone."
    with pytest.raises(click.ClickException, match="it ended on 2026-10-18"):
        decided(Asked(**pair), NOW + timedelta(days=2))


@pytest.mark.parametrize("name", ["", "a b", "https://plans.example", "plans.example/", "x\n", "\x1b[31m", "*"])
def test_what_is_no_name_is_refused(name, pair):
    for told in (refusal(proxy=name), refusal(names=(name,), **pair)):
        assert "takes a name as it stands in a browser's address" in told
        assert "\x1b" not in told


@pytest.fixture
def proxied(app):
    app.config.update(PASSPHRASE_METHOD=FAST)
    before = app.wsgi_app
    apply(app, decided(Asked(proxy="plans.example"), NOW))
    yield app.test_client()
    app.wsgi_app = before


def through(client, **changes):
    headers = {"X-Forwarded-Host": "plans.example", "X-Forwarded-Proto": "https", "X-Forwarded-For": "203.0.113.9"}
    return client.get("/sign-in", headers=headers | changes)


def test_a_proxy_of_that_name_is_let_through(proxied):
    page = through(proxied)
    assert page.status_code == 200
    assert page.headers["Set-Cookie"].startswith("__Host-kerbstand=")
    assert "Secure" in page.headers["Set-Cookie"]


@pytest.mark.parametrize(
    ("header", "value", "words"),
    [
        ("X-Forwarded-Host", "evil.example", "Not under this name"),
        ("X-Forwarded-Host", "plans.example, evil.example", "Not under this name"),
        ("X-Forwarded-Proto", "http", "Not over HTTPS"),
        ("X-Forwarded-Proto", "https, http", "Not over HTTPS"),
        ("X-Forwarded-Proto", "", "Not over HTTPS"),
    ],
)
def test_anything_else_is_refused(proxied, header, value, words):
    refused = through(proxied, **{header: value})
    assert refused.status_code == 400
    assert words in refused.text
    assert "Set-Cookie" not in refused.headers


def test_only_the_last_hop_is_believed(proxied):
    """A reader who invents earlier hops stays one reader to the limit on tries."""
    proxied.application.config["RATELIMIT_SIGN_IN"] = "2 per 10 minutes"
    base = {"X-Forwarded-Host": "plans.example", "X-Forwarded-Proto": "https"}
    page = proxied.get("/sign-in", headers=base)
    token = page.text.split('name="csrf_token" value="')[1].split('"')[0]
    told = []
    for invented in ("1.1.1.1", "2.2.2.2", "3.3.3.3"):
        headers = base | {"X-Forwarded-For": f"{invented}, 203.0.113.9", "Referer": "https://plans.example/sign-in"}
        told.append(
            proxied.post("/sign-in", data={"csrf_token": token, "passphrase": "x"}, headers=headers).status_code
        )
    assert told == [422, 422, 429]
