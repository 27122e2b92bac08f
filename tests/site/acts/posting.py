"""What a browser would send for a form as it stands on a page."""

from html.parser import HTMLParser
from typing import Any

Values = dict[str, list[str]]


class _Form(HTMLParser):
    """Collects the fields of the first form that posts an ``act_id`` with its button."""

    def __init__(self) -> None:
        super().__init__()
        self.values: Values = {}
        self.select = self.textarea = ""
        self.inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = dict(attrs)
        if tag == "form":
            self.inside = told.get("class") == "form"
        if not self.inside:
            return
        name, value = told.get("name") or "", told.get("value", "on" if told.get("type") == "checkbox" else "") or ""
        if tag == "input" and name and self._is_sent(told):
            self._add(name, value)
        elif tag == "select":
            self.select = name
        elif tag == "option" and "selected" in told:
            self._add(self.select, value)
        elif tag == "textarea":
            self.textarea = name
            self._add(name, "")

    def handle_data(self, data: str) -> None:
        if self.textarea:
            self.values[self.textarea][-1] += data.removeprefix("\n")

    def handle_endtag(self, tag: str) -> None:
        if tag == "textarea":
            self.textarea = ""
        if tag == "form":
            self.inside = False

    @staticmethod
    def _is_sent(told: dict[str, Any]) -> bool:
        return told.get("type") not in {"radio", "checkbox"} or "checked" in told

    def _add(self, name: str, value: str) -> None:
        self.values.setdefault(name, []).append(value)


def form_on(page: str) -> Values:
    """The names and values of the act's form on a page, unchanged."""
    parser = _Form()
    parser.feed(page)
    parser.values.pop("csrfmiddlewaretoken", None)
    return parser.values
