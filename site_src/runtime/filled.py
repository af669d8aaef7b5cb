"""Fills a Python with all that it will need in the browser: runs inside Pyodide, by image.mjs.

It imports every module of its archive, loads every template, answers one request, and clears what
it will not need again. What it returns is that request and its answer, as JSON text: a restored
Python must give the same answer.
"""

import gc
import importlib
import json
import linecache
import random
import sys
import zipfile
import zipimport
from functools import lru_cache


@lru_cache
def cached() -> None:
    """Only something of the type that caches have."""


def main() -> str:
    """Fills it; a request and its answer."""
    archive = next(path for path in sys.path if path.endswith(".zip"))
    with zipfile.ZipFile(archive) as members:
        names = [name for name in members.namelist() if name.endswith(".pyc")]
    for name in names:
        if not name.startswith("site_src/compiled_templates/"):
            importlib.import_module(name[:-4].removesuffix("/__init__").replace("/", "."))
    canary = answered()
    for found in gc.get_objects():
        if isinstance(found, type(cached)) and found.cache_parameters()["maxsize"]:
            found.cache_clear()
    linecache.clearcache()
    sys.path_importer_cache.clear()
    vars(zipimport)["_zip_directory_cache"].clear()
    random.seed(0)
    sys.stdin.close()  # its buffer is large and holds whatever was there before
    gc.collect()
    gc.freeze()  # no later collection has to look at what is here for good
    scrub()
    return canary


def answered() -> str:
    """A request with its answer. One only: code that has run packs worse than code that has not."""
    from site_src.calculators import CALCULATORS  # noqa: PLC0415 - on the path only now
    from site_src.calculators.door import reply  # noqa: PLC0415
    from site_src.calculators.render import TEMPLATES, environment  # noqa: PLC0415

    for name in TEMPLATES:
        environment().get_template(name)
    calculator = next(iter(CALCULATORS.values()))
    fields = dict(calculator.examples[0].given)
    request = {"id": 0, "calculator": calculator.slug, "root": "", "fields": fields}
    text = json.dumps(request)
    return json.dumps({"request": text, "reply": reply(text)})


def scrub() -> None:
    """Fills the free places in the memory with zeros, which pack to nothing."""
    size = 1 << 20
    top = id(bytes(size))  # too large for any free place, so it stands above them all
    held = []
    while size >= 16:
        held.append(bytes(size))
        if id(held[-1]) >= top:
            held.pop()
            size //= 2


main()
