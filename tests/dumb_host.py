"""A web server that knows nothing newer than 2010, such as stands in many a cellar.

It serves files of the kinds it knows and no others, asks for exact extensions but not for exact
capitals, compresses nothing and says nothing about keeping. It gives no page for a folder.

    python -m tests.dumb_host [folder]
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler
from pathlib import Path
from threading import Thread
from urllib.parse import unquote, urlsplit

from site_src.serve import Server

# What IIS 7.5 of 2009 served as it came, from memory: neither .svg nor .json was among it.
# IIS answers 404 for an extension that is not in its list (Microsoft, KB 326965).
KINDS = {
    ".css": "text/css",
    ".gif": "image/gif",
    ".htm": "text/html",
    ".html": "text/html",
    ".ico": "image/x-icon",
    ".jpg": "image/jpeg",
    ".js": "application/x-javascript",
    ".mjs": "text/plain",  # hosts that know it not as a script: no page may need it
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".txt": "text/plain",
    ".xml": "text/xml",
    ".zip": "application/x-zip-compressed",
}

# Below such a folder, with a space in it, on a machine with a plain name.
PLACE = "School Files/handbook/"


class Handler(BaseHTTPRequestHandler):
    """Files of one folder, below PLACE."""

    def __init__(self, folder: Path, *given: object) -> None:
        self.folder = folder
        super().__init__(*given)  # type: ignore[arg-type]

    def do_GET(self) -> None:
        path = unquote(urlsplit(self.path).path).removeprefix("/")
        file = self._file(path)
        kind = KINDS.get(file.suffix.lower()) if file else None
        if file is None or kind is None:
            self.send_error(HTTPStatus.NOT_FOUND)
            return
        content = file.read_bytes()
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)

    def _file(self, path: str) -> Path | None:
        """The file at this path, capitals or not."""
        if not path.lower().startswith(PLACE.lower()):
            return None
        place = self.folder
        for name in path[len(PLACE) :].split("/"):
            there = {each.name.lower(): each for each in place.iterdir()} if place.is_dir() else {}
            if name.lower() not in there:
                return None
            place = there[name.lower()]
        return place if place.is_file() else None

    def log_message(self, *_: object) -> None:
        """Says nothing of single requests."""


@contextmanager
def dumb_host(folder: Path) -> Iterator[int]:
    """The port of this machine on which the folder is served while the block runs."""
    serving = Server(("127.0.0.1", 0), partial(Handler, folder))
    thread = Thread(target=serving.serve_forever, kwargs={"poll_interval": 0.05})
    thread.start()
    try:
        yield serving.server_port
    finally:
        serving.shutdown()
        thread.join()
        serving.server_close()


if __name__ == "__main__":
    with dumb_host(Path(sys.argv[1] if sys.argv[1:] else "dist")) as port:
        print(f"http://127.0.0.1:{port}/{PLACE}index.html".replace(" ", "%20"), flush=True)
        input("Enter stops it.")
