"""What a page may load and run: its Content-Security-Policy, which stands in its head.

'self' is the folder's own host, and for a page that was opened as a file it is other files:
measured so in Chromium 156, Firefox 153 and WebKitGTK 2.50.
"""

from __future__ import annotations

NOTHING = "'none'"
OWN = "'self'"
FILES = "file:"


def policy(*, calculates: bool = False, keeps: bool = False) -> str:
    """The policy of a page as the text of its meta element.

    `calculates` is for a page with a calculator: Python is WebAssembly, in a worker that a page
    opened as a file has to start from a blob. `keeps` is for a page with a service worker.
    """
    allowed = {
        "default-src": NOTHING,
        "base-uri": NOTHING,
        "form-action": f"{OWN} {FILES}",  # to Firefox a page opened as a file has no self there
        "script-src": OWN,
        "style-src": OWN,
        "img-src": OWN,
        "manifest-src": OWN,
        "connect-src": OWN,
    }
    if calculates or keeps:
        allowed["worker-src"] = OWN
    if calculates:
        allowed["script-src"] += " 'wasm-unsafe-eval'"
        allowed["worker-src"] += " blob:"
    return "; ".join(f"{kind} {places}" for kind, places in allowed.items())
