"""A certificate and its key: taken where a browser would take them, and said what is wrong where not."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import trustme
from cryptography.hazmat.primitives import serialization as pem

from models.exchange.certificate import Certificate, read_certificate
from models.problems import InputProblem

NOW = datetime(2026, 10, 17, 14, 40, tzinfo=UTC)
ENDS = datetime(2027, 1, 1, tzinfo=UTC)


@pytest.fixture(scope="module")
def authority() -> trustme.CA:
    return trustme.CA()


@pytest.fixture
def files(authority: trustme.CA, tmp_path: Path):
    def make(*names: str, name: str = "made") -> tuple[Path, Path]:
        made = authority.issue_cert(*names, not_before=NOW - timedelta(days=9), not_after=ENDS)
        certificate, key = tmp_path / f"{name}.pem", tmp_path / f"{name}.key"
        certificate.write_bytes(b"".join(each.bytes() for each in made.cert_chain_pems))
        made.private_key_pem.write_to_path(str(key))
        return certificate, key

    return make


def wrong(certificate: Path, key: Path, now: datetime = NOW) -> tuple[str, str]:
    with pytest.raises(InputProblem) as problem:
        read_certificate(certificate, key, now)
    return problem.value.field, problem.value.message


def test_names_and_dates_are_read(files):
    found = read_certificate(*files("Plans.Example", "*.other.example", "127.0.0.1", "0:0:0:0:0:0:0:1"), NOW)
    assert found == Certificate(
        names=("plans.example", "127.0.0.1", "[::1]"),
        patterns=("*.other.example",),
        starts_at=NOW - timedelta(days=9),
        ends_at=ENDS,
    )


def test_one_that_has_ended_or_has_not_begun_is_refused(files):
    pair = files("plans.example")
    assert wrong(*pair, ENDS) == ("certificate", "it ended on 2027-01-01. Give a renewed one.")
    assert wrong(*pair, NOW - timedelta(days=9, seconds=1))[1].startswith("it is not good before 2026-10-08 14:40")


def test_somebody_elses_key_is_refused(files):
    certificate, _ = files("plans.example")
    _, other = files("plans.example", name="other")
    assert wrong(certificate, other) == ("key", "it does not belong to that certificate.")


def test_what_is_no_certificate_or_no_key_is_refused(files, tmp_path):
    certificate, key = files("plans.example")
    junk = tmp_path / "junk.pem"
    junk.write_bytes(b"\0\xff" * 500)
    for pair in ((junk, key), (certificate, junk), (key, certificate)):
        assert wrong(*pair)[1] == "that and the key are not a certificate and its key in PEM."


def test_a_file_that_is_not_there_is_named_without_its_folder(files, tmp_path):
    certificate, _ = files("plans.example")
    assert wrong(certificate, tmp_path / "gone.key") == ("key", "there is no file gone.key.")
    assert wrong(tmp_path, tmp_path)[0] == "certificate"


def test_a_locked_key_asks_nobody_on_the_terminal(files, tmp_path):
    certificate, key = files("plans.example")
    locked = tmp_path / "locked.key"
    opened = pem.load_pem_private_key(key.read_bytes(), password=None)
    how = pem.BestAvailableEncryption(b"quay lane")
    locked.write_bytes(opened.private_bytes(pem.Encoding.PEM, pem.PrivateFormat.PKCS8, how))
    assert wrong(certificate, locked) == ("key", "it is locked with a password. Give one that is not.")
