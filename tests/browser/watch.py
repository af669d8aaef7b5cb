"""A watch on everything that the pages of a browser context ask for and complain of."""

from __future__ import annotations

from dataclasses import dataclass, field

from playwright.sync_api import BrowserContext, ConsoleMessage, Dialog, WebError

from site_src.assets import asset

ICON = asset("icon.svg")  # fetched by the browser itself, whenever it likes


@dataclass
class Watch:
    """What happened in `context` since it was opened, or since `forget`.

    `home` is the address that every request must begin with.
    """

    context: BrowserContext
    home: str
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)
    expects_complaints: bool = False

    def __post_init__(self) -> None:
        self.context.on("request", lambda request: self.requests.append(request.url))
        self.context.on("console", self._console)
        self.context.on("weberror", self._error)
        self.context.on("dialog", self._dialog)

    def _console(self, message: ConsoleMessage) -> None:
        if message.type == "error" and not message.location["url"].endswith(ICON):
            self.complaints.append(f"console: {message.text}")

    def _error(self, error: WebError) -> None:
        self.complaints.append(f"uncaught: {error.error}")

    def _dialog(self, dialog: Dialog) -> None:
        self.complaints.append(f"dialog: {dialog.message}")
        dialog.dismiss()

    def forget(self) -> None:
        """Begins anew."""
        self.requests.clear()
        self.complaints.clear()

    def asked_for(self) -> list[str]:
        """The requests of the pages themselves."""
        return [url for url in self.requests if not url.endswith(ICON)]

    def check(self) -> None:
        """Nothing was asked of another place, and nothing went wrong that was not expected to."""
        strangers = [url for url in self.requests if not url.startswith((self.home, "data:"))]
        assert strangers == [], "requests left the handbook"
        assert self.expects_complaints or self.complaints == []
