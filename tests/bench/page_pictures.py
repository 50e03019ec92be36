"""The pictures of docs/page.md, taken of the page as it is: `python -m tests.bench.page_pictures`."""

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from tests.page.browsing import browser, until
from tests.page.running import ROOT, page_of

OUT = ROOT / "docs" / "pictures"
TYPED = {
    "title": "Heron Flat, 26 in by 9 ft 2 in",
    "box.length": "9 ft 2 in",
    "box.width": "26 in",
    "box.side_height": "7 in",
}


def main() -> None:
    """Take them."""
    OUT.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, browser() as running:
        os.environ["XDG_STATE_HOME"] = folder
        case = Path(shutil.copy(ROOT / "cases" / "sawpit-bend.toml", folder))
        with page_of(case) as page:
            shown = running.new_page(viewport={"width": 1280, "height": 900})
            shown.goto(page.address)
            until(shown, "document.querySelector('#strip p')?.textContent.endsWith('.') && "
                  "!document.querySelector('#strip p').textContent.includes('worked out')", wait=120.0)  # fmt: skip
            _take(shown, "page.png")
            shown.click("button[value='view folded']")
            until(shown, "document.querySelector('[data-grip^=haul]') && document.querySelector('#angle')", wait=120.0)
            shown.fill("#angle", "36")
            _take(shown.locator("#picture"), "folded.png")
        with page_of(None, folder=Path(folder)) as page:
            shown = running.new_page(viewport={"width": 1280, "height": 900})
            shown.goto(page.address)
            for key, text in TYPED.items():
                shown.fill(f'[name="{key}"]', text)
            shown.focus('[name="hanger.at"]')
            shown.wait_for_timeout(1500)
            _take(shown, "blank.png")


def _take(shown: object, name: str) -> None:
    shown.screenshot(path=str(OUT / name))  # type: ignore[attr-defined]
    if shutil.which("convert"):
        subprocess.run(["convert", str(OUT / name), "-colors", "64", "-strip", str(OUT / name)], check=True)


if __name__ == "__main__":
    main()
