"""A question of the window: its fields, each of the kind it must have."""

from __future__ import annotations

from collections.abc import Mapping


class WrongQuestion(Exception):  # noqa: N818 - told to the page, not a fault of ours
    """A question the page does not ask: a field is missing or of another kind."""


class Asked:
    """A question's fields, each of the kind it must have."""

    def __init__(self, body: object) -> None:
        if not isinstance(body, dict):
            raise WrongQuestion("a question is a JSON object")
        self._body = body

    def text(self, name: str, default: str | None = None) -> str:
        value = self._body.get(name, default)
        if not isinstance(value, str):
            raise WrongQuestion(f"'{name}' is missing or no text")
        return value

    def number(self, name: str) -> int:
        value = self._body.get(name)
        if not isinstance(value, int) or isinstance(value, bool):
            raise WrongQuestion(f"'{name}' is missing or no whole number")
        return value

    def any(self, name: str) -> object:
        return self._body.get(name)

    def texts(self, name: str = "texts") -> Mapping[str, str]:
        """Texts by the name of their file."""
        value = self._body.get(name)
        if not isinstance(value, dict) or not all(isinstance(one, str) for one in value.values()):
            raise WrongQuestion(f"'{name}' is missing or holds more than texts")
        return value
