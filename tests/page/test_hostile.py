"""Nothing but the page itself is answered; what is refused leaves no trace and the page goes on."""

import json
import random
import socket

import pytest

from rigcheck.page.guard import HEADERS
from tests.page.running import case_in, page_of, parted

DEEP = b"[" * 100_000 + b"]" * 100_000


@pytest.fixture(autouse=True)
def page_goes_on(page, capfd):
    before = page.path.read_bytes()
    yield
    assert page.get("/icon.svg")[0] == 200
    assert page.path.read_bytes() == before
    assert "Traceback" not in "".join(capfd.readouterr())


def with_headers(answer: bytes) -> bool:
    head = answer.partition(b"\r\n\r\n")[0].decode().lower()
    return all(head.count(f"{name}: {value}".lower()) == 1 for name, value in HEADERS)


def test_every_answer_has_the_headers_of_its_safety(page):
    host = f"Host: {page.host}\r\nConnection: close\r\n\r\n"
    for request in (
        f"GET /?key={page.desk.key} HTTP/1.1\r\n{host}", f"GET /page.css HTTP/1.1\r\n{host}",
        f"GET / HTTP/1.1\r\n{host}", f"GET /no HTTP/1.1\r\n{host}", "GET / HTTP/1.1\r\nHost: x\r\n\r\n",
        "GET / HTTP/1.1\r\n\r\n", "nonsense\r\n\r\n", f"PUT /live HTTP/1.1\r\n{host}",
    ):  # fmt: skip
        answer = page.raw(request.encode())
        assert with_headers(answer), (request, answer[:600])


@pytest.mark.parametrize("path", ["/", "/?key=", "/?key=x", "/?key=%C3%A9"])
def test_no_page_without_the_key_of_its_address(page, path):
    assert page.get(path)[0] == 403


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost:{port}", "[::1]:{port}", "127.0.0.1.:{port}",
             "127.0.0.1:{port}.", ""]
)  # fmt: skip
def test_every_other_host_is_refused(page, host):
    assert page.get(Host=host.format(port=page.port))[0] == 421


def test_a_host_left_out_or_named_twice_is_refused(page):
    line = f"GET /?key={page.desk.key} HTTP/1.1\r\n"
    assert parted(page.raw(f"{line}\r\n".encode()))[0] == 400
    assert parted(page.raw(f"{line}Host: {page.host}\r\nHost: evil\r\n\r\n".encode()))[0] in (400, 421)
    assert parted(page.raw(f"GET /?key={page.desk.key} HTTP/1.0\r\n\r\n".encode()))[0] == 421


@pytest.mark.parametrize(
    "path", ["/../pyproject.toml", "/%2e%2e/page.css", "//page.css", "/static/page.css", "/page.css/", "/page.css%00",
             "/./page.css", "http://evil.example/page.css", "/cases/sawpit-bend.toml", "/docs", "*"]
)  # fmt: skip
def test_no_path_but_those_of_the_table(page, path):
    assert page.get(path)[0] in (400, 404)


@pytest.mark.parametrize("method", ["PUT", "OPTIONS", "HEAD", "DELETE", "PATCH", "TRACE"])
def test_no_other_method(page, method):
    for path in ("/", "/live", "/page.js"):
        answer = page.raw(f"{method} {path} HTTP/1.1\r\nHost: {page.host}\r\nConnection: close\r\n\r\n".encode())
        assert parted(answer)[0] == 405


@pytest.mark.parametrize(
    "other",
    [{"Origin": None}, {"Origin": "null"}, {"Origin": "http://evil.example"}, {"Origin": "http://127.0.0.1:1"},
     {"Origin": "https://{host}"}, {"Sec_Fetch_Site": "cross-site"}, {"Sec_Fetch_Site": "none"}, {"Host": "evil"}],
)  # fmt: skip
def test_a_question_from_elsewhere_is_refused(page, other):
    told = {name: value and value.format(host=page.host) for name, value in other.items()}
    for path in ("/live", "/save"):
        assert page.post(path, {"changes": {"base": page.base}}, **told)[0] in (403, 421)


@pytest.mark.parametrize("token", ["", "x", "é", "\ud800", None, 1, [], {}])
def test_a_question_without_the_token_is_refused(page, token):
    assert page.post("/live", {"changes": {"base": page.base}, "token": token})[0] == 403


@pytest.mark.parametrize(
    ("other", "status"),
    [({"Content_Type": "text/plain"}, 415), ({"Content_Type": None}, 415),
     ({"Content_Type": "multipart/form-data; boundary=x"}, 415), ({"Content_Length": None}, 411),
     ({"Content_Length": "-1"}, 400), ({"Content_Length": "10000000"}, 413), ({"Content_Length": "1e3"}, 400),
     ({"Content_Length": None, "Transfer_Encoding": "chunked"}, 411)],
)  # fmt: skip
def test_a_body_of_no_kind_or_length_is_refused(page, other, status):
    assert page.post("/live", {"changes": {}}, **other)[0] in (status, 400, 411)


@pytest.mark.parametrize(
    "body", [b"", b"{", b"[1]", b'"x"', DEEP, b"\xff\xfe", b'{"token":', b"null", b"NaN", b'{"a":' * 5000]
)
def test_a_body_that_is_no_question_is_refused(page, body):
    assert page.post("/live", {}, plain=body)[0] in (400, 403)


@pytest.mark.parametrize(
    "typed",
    [{"nonsense": "1"}, {"__class__": "x"}, {"box.__init__": "x"}, {"line.link[0].wll": "1 lb"}, {"box[1].length": "1"},
     {"line.link[99].wll": "1 lb"}, {"line.link.wll": "1 lb"}, {"line.link[1]": "x"}, {"box": "x"}, {"box.length": 3},
     {"box.length": "9" * 100_000}, {"box.length.x": "1"}, {"": "x"}, {"haul.tie_down[1].start": "1"},
     {"a." * 200: "x"}],
)  # fmt: skip
def test_a_key_that_no_case_has_is_refused(page, typed):
    assert page.post("/live", {"changes": {"base": page.base, "typed": typed}})[0] in (400, 413)


@pytest.mark.parametrize(
    "changes",
    [None, [], {"base": "0" * 64}, {"base": 1}, {"typed": []}, {"rows": {"box": [1]}}, {"rows": {"line.link": [9]}},
     {"rows": {"line.link": [1, 1]}}, {"rows": {"line.link": [0] * 101}}, {"rows": {"line.link": [True]}},
     {"opened": ["box.length"]}, {"opened": [1]}, {"more": 1}, {"typed": {f"box.{i}": "" for i in range(3000)}}],
)  # fmt: skip
def test_changes_that_no_page_makes_are_refused(page, changes):
    whole = {"base": page.base, **changes} if isinstance(changes, dict) else changes
    assert page.post("/live", {"changes": whole})[0] == 400


@pytest.mark.parametrize(
    "more",
    [{"do": "drop line.link 9"}, {"do": "describe box"}, {"do": "x"}, {"do": 1}, {"do": "add box"}, {"view": "x"},
     {"view": []}, {"frame": "x"}, {"frame": [1e999] * 8}, {"do": "up line.link 0"}],
)  # fmt: skip
def test_buttons_and_views_that_the_page_has_not_are_refused_or_passed_over(page, more):
    status, _ = page.post("/live", {"changes": {"base": page.base}, **more})
    assert status == (200 if "frame" in more else 400)


def test_a_title_stays_text(tmp_path):
    wild = "<script>alert(1)</script><img src=x onerror=alert(1)>\"'&"
    path = case_in(tmp_path)
    path.write_text(path.read_text(encoding="utf-8").replace("Sawpit Bend, low", wild.replace('"', '\\"')), "utf-8")
    with page_of(path) as page:
        html = page.get()[1]
        assert "alert(1)" in html and "<script>alert" not in html and "<img" not in html
        typed = {"line.link[1].name": wild, "title": wild}
        answer = page.ask("/live", changes={"base": page.base, "typed": typed}, form=True)
        html = [answer[key] for key in ("answer", "why", "svg", "form")]
        assert all("<script" not in text and "<img" not in text for text in html)


def test_a_form_of_another_kind_is_refused(page):
    kind = "application/x-www-form-urlencoded"
    token = page.desk.token
    for body in (f"token={token}", f"token={token}&state=x", f"token={token}&state=[]", "%ff", f"token={token}&token=x",
                 f"token={token}&state=%7B%7D&box.nope=1"):  # fmt: skip
        assert page.post("/live", {}, plain=body.encode(), Content_Type=kind)[0] == 400


def test_a_page_that_is_only_read_has_no_way_to_save(tmp_path):
    path = case_in(tmp_path)
    with page_of(path, read_only=True) as page:
        assert page.post("/save", {"changes": {"base": page.base}})[0] == 404
        assert "Save" not in page.get()[1]


def test_idle_and_half_asked_lines_do_not_stop_the_page(page):
    idle = [socket.create_connection(("127.0.0.1", page.port)) for _ in range(200)]
    try:
        idle[0].sendall(b"POST /live HTTP/1.1\r\nHost: ")
        half = f"POST /live HTTP/1.1\r\nHost: {page.host}\r\nOrigin: http://{page.host}\r\nContent-Length: 9\r\n"
        idle[1].sendall(f"{half}Content-Type: application/json\r\n\r\nxx".encode())
        assert page.get()[0] == 200
        assert page.ask("/live", changes={"base": page.base})["word"] == "tight"
    finally:
        for one in idle:
            one.close()


def test_bodies_mangled_at_random_never_bring_it_down(page):
    draw = random.Random(20)
    good = json.dumps({"token": page.desk.token, "view": "plan", "changes": {
        "base": page.base, "typed": {"hanger.at": "5 ft"}, "rows": {"line.link": [1, 2, 3]}}}).encode()  # fmt: skip
    for _ in range(60):
        body = bytearray(good)
        for _ in range(draw.randint(1, 4)):
            at = draw.randrange(len(body))
            body[at : at + draw.randint(0, 6)] = bytes(draw.randrange(256) for _ in range(draw.randint(0, 5)))
        assert page.post("/live", {}, plain=bytes(body))[0] in (200, 400, 403)
