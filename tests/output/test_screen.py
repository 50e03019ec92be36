"""Screens fit their width, lose no word, and have color only where it is wanted."""

from hypothesis import given
from hypothesis import strategies as st

from rigcheck.output.screen import Column, Look, Page

WORDS = st.lists(st.text("abcdefgh", min_size=1, max_size=9), min_size=1, max_size=12).map(" ".join)
COLUMNS = (Column("Use", number=True), Column("Verdict", share=0), Column("Part", share=5), Column("Where", share=3))


@given(st.integers(40, 130), st.lists(st.tuples(st.integers(0, 99999), WORDS, WORDS), min_size=1, max_size=6))
def test_tables_fit_and_keep_every_word(width, rows):
    page = Page(Look(width=width))
    page.table(COLUMNS, rows=[([f"{use} %", "within", part, where], "") for use, part, where in rows])
    text = page.text()
    assert max(map(len, text.splitlines())) <= width
    assert all(f"{use} %" in text for use, _, _ in rows)
    kept = text.split()
    for _, part, where in rows:
        for word in (*part.split(), *where.split()):
            assert word in kept


@given(st.integers(40, 130), st.text("abc de-[]/", max_size=300))
def test_paragraphs_and_lists_fit(width, words):
    page = Page(Look(width=width))
    page.line(words)
    page.items([("-", words), ("STOPS:", words)])
    assert max(map(len, page.text().splitlines())) <= width


def test_an_entry_goes_on_under_its_text():
    page = Page(Look(width=40))
    page.items([("-", "one two three four five six seven eight nine ten")])
    assert page.text() == " - one two three four five six seven\n   eight nine ten\n"


def test_a_word_longer_than_the_screen_is_broken():
    page = Page(Look(width=40))
    page.line("x" * 95)
    assert page.text() == f"{'x' * 40}\n{'x' * 40}\n{'x' * 15}\n"


def test_color_only_where_wanted():
    for color, begin in ((True, "\x1b[1;31m"), (False, "")):
        page = Page(Look(color=color))
        page.line("OVER", style="over")
        assert page.text() == (f"{begin}OVER\x1b[0m\n" if color else "OVER\n")


def test_numbers_stand_to_the_right():
    page = Page(Look())
    page.table((Column("Use", number=True), Column("Part")), rows=[(["7 %", "pin"], ""), (["104 %", "lug"], "")])
    assert page.text() == "  Use  Part\n-----------\n  7 %  pin\n104 %  lug\n"


def test_a_number_keeps_its_unit_on_its_line():
    page = Page(Look(width=40))
    page.line("the left line puts 1,682 lb on its hoist; 1,980 lb (85 %) is allowed at 106 in from it")
    lines = page.text().splitlines()
    assert lines == ["the left line puts 1,682 lb on its", "hoist; 1,980 lb (85 %) is allowed at", "106 in from it"]


def test_headings_of_numbers_give_way_before_words_are_broken():
    columns = (Column("part", share=4), Column("use in the case", number=True), Column("most by", share=3))
    page = Page(Look(width=40))
    page.table(columns, rows=[(["hanger cross-member end weld", "104 %", "bed.density"], "")])
    text = page.text()
    assert max(map(len, text.splitlines())) <= 40
    assert "bed.density" in text and "104 %" in text and "cross-" in text and "member" in text


def test_a_column_of_fixed_width_gives_room_too_where_text_gets_narrow():
    columns = (Column("Part", share=5), Column("Demand of capacity", share=0), Column("State", share=3))
    row = ["line link 2: lever hoist: working load limit", "2,750 of 1,425 lb*in", "packed, low left; worn hinge"]
    page = Page(Look(width=44))
    page.table(columns, rows=[(row, "")])
    lines = page.text().splitlines()
    assert len(lines) <= 8 and max(map(len, lines)) <= 44


def test_a_screen_that_is_too_full_shortens_its_longest_sections_and_loses_none():
    page = Page(Look(width=80, whole=False))
    page.line("the rig")
    sizes = {"First": 30, "Second": 8, "Third": 30}
    for name, count in sizes.items():
        page.heading(name, keep=25)
        page.items(("-", f"{name} {i}") for i in range(count))
    page.close("OVER: what governs", rest="--all adds: the rest.")
    lines = page.text().splitlines()
    assert len(lines) == 45 and lines[-1] == "OVER: what governs"
    for name, count in sizes.items():
        told = [line for line in lines if line.startswith(f" - {name} ")]
        said = f"   and {count - len(told)} more: --all"
        assert name in lines and len(told) >= 6 and (len(told) == count or said in lines), name
    assert len([line for line in lines if "more: --all" in line]) == 2
