"""A save changes what was changed and nothing else; what cannot be saved is told and nothing is written."""

import difflib
import os
import stat
import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcheck.case.reading.positions import statements
from rigcheck.case.schema.keys import glossary
from rigcheck.page.book import Book, Copy, copy_of
from rigcheck.page.changes import Changes, changes_of, laid_over
from rigcheck.page.saving import NotSavedError, new_bytes, save, save_as
from tests.page.running import ROOT, case_in

CASES = sorted((ROOT / "cases").glob("*.toml"))


def changed(raw: bytes, typed: dict[str, str | None], rows: dict[str, list[int]] | None = None) -> bytes:
    changes = changes_of({"typed": typed, "rows": rows or {}})
    return new_bytes(Copy(raw, copy_of(raw).data), changes, name="x.toml")


def lines_changed(old: bytes, new: bytes) -> list[str]:
    told = difflib.unified_diff(old.decode().split("\n"), new.decode().split("\n"), lineterm="", n=0)
    return [line for line in told if line[:2] not in ("--", "++", "@@")]


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_one_value_of_a_shipped_case_changes_one_token(path):
    raw = path.read_bytes()
    old = tomllib.loads(raw.decode())["box"]["pitch"]
    new = changed(raw, {"box.pitch": "1 in/ft"})
    assert lines_changed(raw, new) == [f'-pitch = "{old}"', '+pitch = "1 in/ft"']


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_what_is_saved_reads_as_what_stands_on_the_page(path):
    raw = path.read_bytes()
    typed = {"wind.parked": "70 mph", "hanger.lug.turned": "1 deg", "box.allowance": "10 %", "bed.depth": "1 in"}
    if "lug" not in tomllib.loads(raw.decode())["hanger"]:
        del typed["hanger.lug.turned"]
    new = changed(raw, typed)
    assert tomllib.loads(new.decode()) == laid_over(tomllib.loads(raw.decode()), Changes(typed=typed))
    assert all(line.startswith("+") or "bed" in line or "depth" in line or "allowance" in line
               for line in lines_changed(raw, new))  # fmt: skip


PLAIN = (ROOT / "cases" / "sawpit-bend.toml").read_text(encoding="utf-8")


def test_line_ends_a_mark_at_the_start_and_no_last_line_end_stay():
    raw = b"\xef\xbb\xbf" + PLAIN.rstrip("\n").replace("\n", "\r\n").encode()
    new = changed(raw, {"box.length": "7 ft 6 in", "ice.full": "false", "bed.heap": "1 in"})
    assert new.startswith(b"\xef\xbb\xbf") and b"\r\n" in new and new.replace(b"\r\n", b"").count(b"\n") == 0
    assert {line for line in lines_changed(raw, new) if line.startswith("-")} <= {
        '-length = "7 ft 5 in"\r', '-capacity = "5000 lb"'}  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("length  =\t'7 ft 5 in'   # measured twice", "length  =\t'7 ft 6 in'   # measured twice"),
        ("'length' = '''7 ft 5 in'''", "'length' = \"7 ft 6 in\""),
        ('"length"=""" \\\n  7 ft 5 in"""#x', '"length"="7 ft 6 in"#x'),
    ],
)
def test_odd_blanks_and_quotes_stay(old, new):
    text = PLAIN.replace('length = "7 ft 5 in"', old)
    found = changed(text.encode(), {"box.length": "7 ft 6 in"}).decode()
    assert found == text.replace(old, new)


def test_dotted_inline_and_out_of_order_tables():
    text = PLAIN.replace('[water]\nflow = "150 gpm"\nlip = "4 1/2 in"\nfeed = "5 yd3/h"\nfall = "14 in"\n', "").replace(
        '[weld]\nelectrode = "E70"\nhand = "shop"\n', ""
    )
    head, _, tail = text.partition("[box]")
    text = f'{head}weld.electrode = "E70" # rods\nwater = {{ flow = "150 gpm", lip = "4 1/2 in" }}\n\n[box]{tail}'
    text = text.replace("\n[hanger.lug]", "\n[ice]\nfull = true\n\n[hanger.lug]")
    typed = {"weld.electrode": "E80", "weld.hand": "field", "water.flow": "160 gpm", "water.fall": "9 in",
             "hanger.at": "5 ft 3 in", "hanger.lug.turned": "2 deg"}  # fmt: skip
    new = changed(text.encode(), typed).decode()
    told = lines_changed(text.encode(), new.encode())
    assert '+weld.electrode = "E80" # rods' in told and '+weld.hand = "field"' in told
    assert '+water = { flow = "160 gpm", lip = "4 1/2 in", fall = "9 in" }' in told
    assert [line for line in told if line[0] == "-"] == [
        '-weld.electrode = "E70" # rods',
        '-water = { flow = "150 gpm", lip = "4 1/2 in" }',
        '-at = "5 ft 4 in"',
    ]


def test_a_new_key_stands_behind_the_last_of_its_table_and_not_behind_the_next_remark():
    text = PLAIN.replace("[hanger]\n", "# what the lines pull on\n\n[hanger]\n").replace(
        "[perch]\n", "# the posts\n[perch]\n"
    )
    new = changed(text.encode(), {"hanger.lug.pin": "5/8 in"}).decode()
    assert 'foot = "4 in"\npin = "5/8 in"\n\n# the posts\n[perch]' in new


def test_rows_are_added_moved_and_taken_out_whole():
    text = PLAIN.replace('[[fitting]]\nname = "head flare"', '# made by the boy\n[[fitting]]\nname = "head flare"')
    raw = text.encode()
    new = changed(raw, {}, {"fitting": [2, 1], "haul.tie_down": [2]}).decode()
    assert '# made by the boy\n[[fitting]]\nname = "head flare"' in new
    assert new.index("head flare") < new.index("tail lip") and "left strap" not in new and "right strap" in new
    assert new.count("[haul.tie_down.eyelet]") == 1
    more = changed(raw, {"line.link[4].kind": "rated part", "line.link[4].wll": "3000 lb"}, {"line.link": [1, 2, 3, 0]})
    assert set(lines_changed(raw, more)) == {"+", "+[[line.link]]", '+kind = "rated part"', '+wll = "3000 lb"'}


def test_a_part_is_described_and_taken_out():
    raw = PLAIN.encode()
    typed = {f"haul.tie_down[1].eyelet.{key}": None for key in ("pin",)} | {"perch.lug": None}
    new = changed(raw, typed).decode()
    assert "[perch.lug]" not in new and "[perch.post]" in new and new.count('pin = "5/8 in"') == 1
    back = changed(new.encode(), {"perch.lug.plate": "1/2 in", "perch.lug.hole": "11/16 in", "perch.lug.edge": "1 in",
                                  "perch.lug.width": "3 in"}).decode()  # fmt: skip
    assert '[perch.lug]\nplate = "1/2 in"\n' in back and back.index("[perch.post]") < back.index("[perch.lug]")


def test_a_blank_rig_is_written_in_the_order_of_the_models():
    data = tomllib.loads(PLAIN)
    from tests.page.keyed import everything_typed

    typed, rows = everything_typed(data)
    new = new_bytes(Copy(), changes_of({"typed": typed, "rows": rows}), name="x").decode()
    assert tomllib.loads(new) == data
    assert new.index("title") < new.index("[box]") < new.index("[hinge]") < new.index("[[line.link]]")


def test_what_is_no_case_is_not_saved(tmp_path):
    path = case_in(tmp_path)
    book = Book(path)
    base = book.read().sha256
    before = path.read_bytes()
    for typed in ({"box.length": "8"}, {"hanger.at": "90 ft"}, {"line.link[2].kind": "spring"}, {"title": None}):
        with pytest.raises(NotSavedError, match="no case yet"):
            save(book, Changes(base, typed))
    assert path.read_bytes() == before and os.listdir(tmp_path) == [path.name]


def test_a_file_changed_removed_or_not_to_be_written_is_told(tmp_path, monkeypatch):
    path = case_in(tmp_path)
    path.chmod(0o640)
    book = Book(path)
    base = book.read().sha256
    changes = Changes(base, {"box.length": "7 ft 6 in"})
    before = path.read_bytes()
    path.write_bytes(before + b"# later\n")
    with pytest.raises(NotSavedError, match="changed meanwhile") as told:
        save(book, changes)
    assert told.value.conflict and path.read_bytes() == before + b"# later\n"
    path.unlink()
    with pytest.raises(NotSavedError, match="not there any more"):
        save(book, changes)
    assert not path.exists()
    path.write_bytes(before)
    path.chmod(0o640)

    def full(*_):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", full)
        with pytest.raises(NotSavedError, match="No space left"):
            save(book, changes)
    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", full)
        with pytest.raises(NotSavedError, match="No space left"):
            save(book, changes)
    assert path.read_bytes() == before and os.listdir(tmp_path) == [path.name]
    saved = save(book, changes)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640 and book.on_disk() == saved.copy.sha256
    with pytest.raises(NotSavedError, match="changed meanwhile"):
        save(book, changes)  # the second of two tabs that started alike


def test_a_link_is_followed_and_a_copy_goes_over_nothing(tmp_path):
    path = case_in(tmp_path)
    link = tmp_path / "link.toml"
    link.symlink_to(path)
    book = Book(link)
    changes = Changes(book.read().sha256, {"box.length": "7 ft 6 in"})
    save(book, changes)
    assert link.is_symlink() and "7 ft 6 in" in path.read_text(encoding="utf-8")
    book = Book(path)
    changes = Changes(book.read().sha256, {"box.length": "7 ft 7 in"})
    assert save_as(book, changes, name="other rig", folder=Path("/nowhere")).path == tmp_path / "other rig.toml"
    assert "7 ft 6 in" in path.read_text(encoding="utf-8")
    with pytest.raises(NotSavedError, match="already"):
        save_as(book, changes, name="other rig.toml", folder=tmp_path)
    for name in ("", "../x", "a/b", ".hidden", "x\0y", "c:x", " ", "a" * 90, "x\ny"):
        with pytest.raises(NotSavedError, match="a name has letters"):
            save_as(book, changes, name=name, folder=tmp_path)


def test_the_walk_over_a_file_finds_every_key_where_the_reader_has_it():
    for path in CASES:
        text = path.read_text(encoding="utf-8")
        data = tomllib.loads(text)
        for one in statements(text):
            here = data
            for step in one.location:
                here = here[step]
            if one.path:
                assert tomllib.loads(f"x = {text[slice(*one.value)]}")["x"] == here


ROWS = ("line.", "haul.", "fitting", "second_line")
KEYS = sorted(entry.path for entry in glossary() if not entry.path.startswith(ROWS))


@settings(max_examples=40, derandomize=True)
@given(
    st.dictionaries(st.sampled_from(KEYS),
                    st.sampled_from(["1 in", "2 deg", "true", "3", "A36", "", "9 ft", "120 lb", "x # y", '"', "'''"]),
                    max_size=4),
    st.sampled_from(["\n", "\r\n"]), st.booleans(), st.permutations([1, 2, 3]),
)  # fmt: skip
def test_every_drawn_change_is_saved_exactly_or_not_at_all(typed, end, marked, order):
    raw = (b"\xef\xbb\xbf" if marked else b"") + PLAIN.replace("\n", end).encode()
    said = {key: text or None for key, text in typed.items()}
    copy = copy_of(raw)
    changes = changes_of({"typed": said, "rows": {"line.link": order}})
    try:
        new = new_bytes(copy, changes, name="x")
    except NotSavedError as error:
        assert "no case yet" in str(error)
        return
    assert tomllib.loads(new.decode("utf-8-sig")) == laid_over(copy.data, changes)
    assert new.count(b"\n") == new.count(end.encode())
