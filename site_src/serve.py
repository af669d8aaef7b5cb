"""Serves the built folder on this machine, to look at it."""

from __future__ import annotations

import sys
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from site_src.setup.steps import SetupError


class Handler(SimpleHTTPRequestHandler):
    """Static files, whatever Windows calls a script."""

    extensions_map = {  # noqa: RUF012 - the base class keeps it so
        **SimpleHTTPRequestHandler.extensions_map,
        ".js": "text/javascript",
    }

    def log_message(self, *_: object) -> None:
        """Says nothing of single requests."""


class Server(ThreadingHTTPServer):
    """A server that is silent about browsers that leave in the middle of a file."""

    def handle_error(self, request: Any, client_address: Any) -> None:
        if not isinstance(sys.exception(), ConnectionError):
            super().handle_error(request, client_address)


def server(folder: Path, port: int) -> Server:
    """A server for `folder` on 127.0.0.1; port 0 takes a free one."""
    return Server(("127.0.0.1", port), partial(Handler, directory=str(folder)))


def serve(folder: Path, port: int) -> None:
    """Serves until interrupted, at an address that is printed.

    Errors  SetupError when the port is taken.
    """
    try:
        serving = server(folder, port)
    except OSError as error:
        raise SetupError(
            f"Port {port} of this machine cannot be used ({error.strerror}). "
            "Name another one with --port."
        ) from error
    print(
        f"The handbook is at http://127.0.0.1:{serving.server_port}/ (stop it with Ctrl+C).",
        flush=True,
    )
    try:
        serving.serve_forever()
    except KeyboardInterrupt:
        print("\nStopped.")
