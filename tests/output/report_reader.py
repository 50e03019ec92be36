"""Read a page back as a browser would, and keep what the tests ask about."""

import re
import shutil
import subprocess
from dataclasses import dataclass, field
from html import escape, unescape
from html.parser import HTMLParser
from pathlib import Path

VOID = {"meta", "br", "link", "img", "hr", "input"}
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or ""
NASTY = '<script>alert(1)</script> & "quotes" \N{GRINNING FACE} \u05e9\u05dc\u05d5\u05dd'

_FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync",
          "--disable-background-networking", "--disable-component-update")  # fmt: skip


@dataclass
class Seen:
    """What stands in a page."""

    tags: list[tuple[str, dict[str, str | None]]] = field(default_factory=list)
    texts: dict[str, list[str]] = field(default_factory=dict)
    visible: str = ""
    unclosed: list[str] = field(default_factory=list)

    def count(self, tag: str) -> int:
        return sum(name == tag for name, _ in self.tags)

    def ids(self) -> list[str]:
        return [found for _, about in self.tags if (found := about.get("id"))]


class Reader(HTMLParser):
    """Collects tags, texts by the innermost tag, and tags that are closed wrongly."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.seen = Seen()
        self._open: list[str] = []

    def handle_starttag(self, tag, attrs):
        self.seen.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.seen.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        if not self._open or self._open.pop() != tag:
            self.seen.unclosed.append(tag)

    def handle_data(self, data):
        inner = self._open[-1] if self._open else ""
        self.seen.texts.setdefault(inner, []).append(data)
        if inner not in ("style", "title", "desc"):
            self.seen.visible += f" {data}"

    def result(self) -> Seen:
        self.seen.unclosed += self._open
        return self.seen


def read(page: str) -> Seen:
    """The page as parsed."""
    reader = Reader()
    reader.feed(page)
    reader.close()
    return reader.result()


def browse(page: str, *, folder: Path, width: int) -> str:
    """What a real browser makes of a page: its width, what overflows, its verdict and its figures, as JSON."""
    script = (
        "const d=f.contentDocument,w=[...d.querySelectorAll('.wide')].filter(e=>!e.querySelector('math'));"
        "const out={page:d.documentElement.scrollWidth,over:w.filter(e=>e.scrollWidth>e.clientWidth+1).length,"
        "verdict:d.querySelector('.verdict, .big').innerText,figures:[...d.querySelectorAll('figure svg')]"
        ".map(e=>{const b=e.getBoundingClientRect();return [b.left,b.right,b.height]})};"
        "document.title=JSON.stringify(out)"
    )
    about = f'id="f" style="border:0" width="{width}" height="900" onload="{escape(script)}"'
    frame = f'<iframe {about} srcdoc="{escape(page)}"></iframe>'
    outer = folder / "outer.html"
    outer.write_text(f'<!DOCTYPE html><meta charset="utf-8"><body style="margin:0">{frame}', encoding="utf-8")
    flags = [*_FLAGS, f"--user-data-dir={folder / 'user'}", "--enable-logging=stderr", "--v=0",
             "--virtual-time-budget=8000", "--dump-dom"]  # fmt: skip
    done = subprocess.run([CHROMIUM, *flags, outer.as_uri()], capture_output=True, text=True, timeout=120, check=True)
    assert "CONSOLE" not in done.stderr, done.stderr
    return unescape(re.search(r"<title>(.*?)</title>", done.stdout, re.S)[1])


def measured_labels(body: str, *, folder: Path, width: int) -> str:
    """Texts of SVG pictures that a real browser shows over other texts or over a stroke, as JSON.

    Args:
        body: Figures as HTML.
        folder: Where to.
        width: Of the window. [px]
    """
    script = (
        "const bad=[],near=(a,b)=>a.y+.15*a.height<b.y+.85*b.height;"
        "const hit=(a,b)=>a.x<b.x+b.width&&b.x<a.x+a.width&&near(a,b)&&near(b,a);"
        "for(const s of document.querySelectorAll('svg')){"
        "const t=[...s.querySelectorAll('text')].map(e=>[e.textContent,e.getBBox()]);"
        "t.forEach(([n,a],i)=>t.slice(0,i).forEach(([m,b])=>{if(hit(a,b))bad.push([n,m])}));"
        "for(const p of s.querySelectorAll('polyline,polygon')){"
        "const n=p.points.length,last=p.tagName=='polygon'?n:n-1;"
        "for(let k=0;k<last;k++){const u=p.points[k],v=p.points[(k+1)%n];"
        "const steps=Math.ceil(Math.hypot(v.x-u.x,v.y-u.y))+1;"
        "for(const [name,a] of t)for(let j=0;j<=steps;j++){const x=u.x+(v.x-u.x)*j/steps,y=u.y+(v.y-u.y)*j/steps;"
        "if(x>a.x&&x<a.x+a.width&&y>a.y+.2*a.height&&y<a.y+.8*a.height){bad.push([name,'line']);break}}}}}"
        "document.title=JSON.stringify(bad)"
    )
    source = folder / "labels.html"
    style = "<style>body{margin:11px}figure{margin:0}svg{display:block;width:100%;height:auto}</style>"
    inside = f'<body style="width:{width - 22}px">{body}<script>{script}</script>'
    frame = f'<!DOCTYPE html><meta charset="utf-8">{style}{inside}'
    source.write_text(frame, encoding="utf-8")
    flags = [*_FLAGS, f"--user-data-dir={folder / 'user'}", "--virtual-time-budget=4000", "--dump-dom"]
    done = subprocess.run([CHROMIUM, *flags, source.as_uri()], capture_output=True, text=True, timeout=180, check=True)
    return unescape(re.search(r"<title>(.*?)</title>", done.stdout, re.S)[1])
