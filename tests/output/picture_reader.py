"""Where the words of a picture stand, by the published metrics of a plain sans face."""

import re
from functools import cache
from pathlib import Path

SVG = "{http://www.w3.org/2000/svg}"


@cache
def metrics() -> dict[str, float]:
    """Widths of letters over the type, the wider of plain and bold: the metrics of Helvetica that matplotlib ships."""
    import matplotlib

    found: dict[str, float] = {}
    for name in ("Helvetica", "Helvetica-Bold"):
        file = Path(matplotlib.get_data_path()) / "fonts" / "pdfcorefonts" / f"{name}.afm"
        for code, wide in re.findall(r"^C (\d+) ; WX (\d+)", file.read_text(encoding="latin-1"), re.M):
            letter = chr(int(code))
            found[letter] = max(found.get(letter, 0.0), int(wide) / 1000.0)
    return found


def width(text: str, size: float) -> float:
    return size * sum(metrics().get(one, 0.8) for one in text)


def boxes(root):
    found = []
    for one in root.iter(f"{SVG}text"):
        size, x, y = (float(one.get(key, "0")) for key in ("font-size", "x", "y"))
        wide = width(one.text or "", size)
        left = x - {"start": 0.0, "end": wide}.get(one.get("text-anchor") or "start", 0.5 * wide)
        found.append((one.text, (left, y - 0.72 * size, left + wide, y + 0.2 * size)))
    return found
