"""Builds the handbook: python build.py [--serve]. One command, one folder of static files."""

from __future__ import annotations

import argparse
import shutil
from pathlib import Path
from tempfile import TemporaryDirectory

from site_src.setup.steps import CACHE, ROOT, plain_failures

SITE_SRC = ROOT / "site_src"


def build_site(target: Path) -> None:
    """Writes the whole site into `target`, in place of what was there.

    Errors  BuildError for a mistake in a page, SetupError when the runtime cannot be had. The old
            site stays until the new one is complete.
    """
    from site_src.assets import write_assets
    from site_src.download import write_download
    from site_src.handbook import check_links, check_texts, load_pages, render_page, write_bodies
    from site_src.offline.offline import write_offline
    from site_src.runtime.bundle import make_runtime
    from site_src.runtime.pyodide_package import fetch
    from site_src.search.library import fetch as fetch_search
    from site_src.search.scripts import search_files

    pages = load_pages(SITE_SRC / "pages")
    write_bodies(pages)
    check_texts(pages)
    found = search_files(fetch_search(CACHE), pages)
    runtime = make_runtime(fetch(CACHE), CACHE)
    with TemporaryDirectory(prefix=f".{target.name}-", dir=target.parent) as temporary:
        fresh = Path(temporary) / target.name
        for page in pages:
            place = fresh / page.address
            place.parent.mkdir(parents=True, exist_ok=True)
            html = render_page(page, runtime.worker, [*found])
            place.write_text(html, encoding="utf-8", newline="\n")
        for name, content in found.items():
            (fresh / name).parent.mkdir(exist_ok=True)
            (fresh / name).write_bytes(content)
        write_assets(fresh)
        shutil.copytree(SITE_SRC / "licences", fresh / "licences")
        shutil.copyfile(ROOT / "LICENSE", fresh / "licences" / "handbook-mit.txt")
        shutil.copyfile(ROOT / "LICENSE-TEXT", fresh / "licences" / "handbook-cc-by-4.0.txt")
        runtime.write(fresh / "runtime")
        shutil.copyfile(SITE_SRC / "offline" / "retire.js", fresh / "retire.js")
        write_offline(fresh)
        write_download(fresh)
        check_links(fresh, pages)
        shutil.rmtree(target, ignore_errors=True)
        fresh.rename(target)


@plain_failures()
def main() -> None:
    """Reads the command line, builds, and serves if asked to."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--serve", action="store_true", help="serve the site after building it")
    parser.add_argument("--port", type=int, default=8000, help="the port to serve on")
    options = parser.parse_args()

    from site_src.serve import serve

    build_site(ROOT / "dist")
    print(f"Built the handbook in {ROOT / 'dist'}.", flush=True)
    if options.serve:
        serve(ROOT / "dist", options.port)


if __name__ == "__main__":
    from site_src.setup import environment

    environment.run_inside("build")
    main()
