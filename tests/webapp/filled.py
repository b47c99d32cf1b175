"""The forms of a page with what stands in them, as a browser would send them back unchanged."""

from __future__ import annotations

from html.parser import HTMLParser


class _Forms(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.forms: dict[str, dict[str, str]] = {}
        self.form: dict[str, str] = {}
        self.chosen = self.typing = ""

    def handle_starttag(self, tag: str, pairs: list[tuple[str, str | None]]) -> None:
        said = {name: value or "" for name, value in pairs}
        if tag == "form":
            self.form = self.forms.setdefault(said.get("action", ""), {})
        elif tag == "input" and "name" in said and said.get("type") not in ("file", "submit"):
            if said.get("type") not in ("checkbox", "radio") or "checked" in said:
                self.form[said["name"]] = said.get("value", "on")
        elif tag == "select":
            self.chosen = said["name"]
        elif tag == "option" and ("selected" in said or self.chosen not in self.form):
            self.form[self.chosen] = said.get("value", "")
        elif tag == "textarea":
            self.typing = said.get("name", "")
            self.form[self.typing] = ""

    def handle_data(self, data: str) -> None:
        if self.typing:
            self.form[self.typing] += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea":
            self.typing = ""


def form_of(html: str, action: str) -> dict[str, str]:
    """The fields of the form that is sent to this address."""
    reader = _Forms()
    reader.feed(html)
    return {name: text for name, text in reader.forms[action].items() if name}
