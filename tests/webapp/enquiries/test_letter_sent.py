"""The letter of an enquiry that went out."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from models.store import rules as kept
from tests.webapp.rules.test_findings import seen


def test_a_letter_that_went_out_is_not_told_to_be_sent(client, planned, streets):
    assert "before you send it" in seen(client.get("/enquiries/1").text)
    with streets.writing() as s:
        enquiry = kept.get_enquiry(s, 1)
        kept.move_enquiry(s, 1, enquiry.version, replace(enquiry, state="asked", sent_on=date(2026, 10, 12)))
    page = seen(client.get("/enquiries/1").text)
    assert "before you send it" not in page
    assert "Not known here when it was drafted: [your name]" in page
