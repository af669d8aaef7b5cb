"""The folder as one file: a zip of the built site, the same bytes for the same files."""

from __future__ import annotations

import zipfile
from pathlib import Path

NAME = "sphere-cylinder-axis"
PLACE = f"download/{NAME}.zip"
_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest date a zip can hold


def write_download(folder: Path) -> None:
    """Writes the zip of everything else in `folder` to its place there.

    What is unpacked from it is one folder. The zip is not in itself, so a page of the unpacked
    folder has a link to a file that it does not have: the one link there that leads nowhere.
    """
    target = folder / PLACE
    files = {
        file.relative_to(folder).as_posix(): file
        for file in folder.rglob("*")
        if file.is_file() and file != target
    }
    target.parent.mkdir(exist_ok=True)
    with zipfile.ZipFile(target, "w") as archive:
        for name in sorted(files):
            entry = zipfile.ZipInfo(f"{NAME}/{name}", _FIRST_DAY)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3  # Unix, wherever it is made
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, files[name].read_bytes(), compresslevel=9)
