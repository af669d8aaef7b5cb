"""A file packed for the browser: as gzip, in a zip.

The browser unpacks gzip itself and checks its sum; the zip around it is there because every host
knows what a zip is and hands it out as it stands.
"""

from __future__ import annotations

import io
import zipfile

import deflate

_LEVEL = 12  # libdeflate's highest
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest date a zip can hold
_LOCAL_HEADER = 30  # bytes before the name; APPNOTE.TXT 6.3, section 4.3.7


def packed(name: str, content: bytes) -> bytes:
    """The zip whose only member is `content` as gzip."""
    target = io.BytesIO()
    entry = zipfile.ZipInfo(f"{name}.gz", _FIRST_DAY)
    entry.create_system = 3  # Unix, wherever it is made
    with zipfile.ZipFile(target, "w") as archive:
        archive.writestr(entry, bytes(deflate.gzip_compress(content, _LEVEL)))
    return target.getvalue()


def member(archive: bytes) -> tuple[int, int]:
    """From where to where the gzip stands in what `packed` gives."""
    with zipfile.ZipFile(io.BytesIO(archive)) as opened:
        (entry,) = opened.infolist()
    start = _LOCAL_HEADER + len(entry.filename)
    return start, start + entry.file_size
