"""Text that would do harm if it were taken for anything but text."""

from __future__ import annotations

HOSTILE = (
    # Markup, alone, closing what stands around it, and hidden by its writing
    "<img src=x onerror=alert(1)>",
    "<script>alert(1)</script>",
    "</textarea></pre></title><b class=injected>b</b>",
    '"><svg onload=alert(1)>',
    "' autofocus onfocus='alert(1)",
    "<iframe srcdoc='<script>parent.alert(1)</script>'>",
    "<style>*{display:none}</style>",
    "<a href=javascript:alert(1) style=position:fixed>-1.00</a>",
    "&lt;b&gt; &amp; %3Cb%3E &#60;script&#62;",
    "-1.00 -1.00 x 90<b class=injected>",
    "<b class=injected>" * 400,
    # Addresses and code
    "javascript:alert(1)",
    "//elsewhere.example/x.js",
    # Template and format syntax
    "{{ 7 * 7 }}{{ ''.__class__ }}{% for x in [] %}{# x #}",
    "{0.__class__} %s %(x)s ${7*7}`",
    # Quotes, names that JavaScript knows, and what an address is split at
    "'\"`“”\\",
    "__proto__",
    "constructor",
    "a=1&b=2#c?d;e",
    # Signs that are not seen, or turn the text round
    "a\0b",
    "\x1b[31m\x07\x08\x7f\x85",
    "\N{RIGHT-TO-LEFT OVERRIDE}05.2\N{RIGHT-TO-LEFT ISOLATE}",
    "\N{ZERO WIDTH SPACE}\N{ZERO WIDTH NO-BREAK SPACE}\N{SOFT HYPHEN}x",
    "e" + "\N{COMBINING ACUTE ACCENT}" * 60,
    "\ufffe\U0010ffff",
    # Very long, very large
    "-" + "9" * 400,
    "x " * 2000,
)
