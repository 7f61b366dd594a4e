"""Courses from files: those that ship, the user's own, and what is said of one that cannot be followed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tastebook.domain.errors import CourseError
from tastebook.platform.courses import CourseFiles

GOOD = '''# A course of two steps.
key = "mine"
name = "My course"
about = """
Two steps.
[[steps]]
stage = "not a table: this is text"
"""

[[steps]]
key = "look"
name = "Look"
stage = "leaf"
sheet = "aroma"
channel = "dry leaf"
prompt = "What does the leaf look like?"

[[steps]]
key = "sip"
name = "Sip"
stage = "infusion"
sheet = "texture"
channel = "palate"
prompt = "And now?"

[[plans]]
infusions_s = [20, 25, 30]
water_c = 95
'''


@pytest.fixture
def own(tmp_path: Path) -> Path:
    folder = tmp_path / "courses"
    folder.mkdir()
    return folder


@pytest.fixture
def shipped(tmp_path: Path) -> Path:
    folder = tmp_path / "shipped"
    folder.mkdir()
    (folder / "ours.toml").write_text(GOOD.replace('"mine"', '"ours"'), encoding="utf-8")
    return folder


def _refusal(own: Path, content: str | bytes) -> str:
    (own / "mine.toml").write_bytes(content.encode() if isinstance(content, str) else content)
    (refusal,) = CourseFiles(own).refused()
    return refusal


class TestReading:
    def test_every_course_that_ships_can_be_followed(self, tmp_path: Path) -> None:
        courses = CourseFiles(tmp_path / "none")

        assert "gaiwan" in {course.key for course in courses.all()}
        assert courses.refused() == ()

    def test_a_users_course_comes_after_those_that_ship(self, own: Path, shipped: Path) -> None:
        (own / "mine.toml").write_text(GOOD, encoding="utf-8")

        assert [course.key for course in CourseFiles(own, shipped).all()] == ["ours", "mine"]

    def test_a_users_course_with_a_shipped_key_stands_in_its_place(self, own: Path, shipped: Path) -> None:
        (own / "copy.toml").write_text(GOOD.replace('"mine"', '"ours"').replace("My course", "Mine"), encoding="utf-8")

        assert [course.name for course in CourseFiles(own, shipped).all()] == ["Mine"]

    def test_a_file_saved_with_a_byte_order_mark_is_read(self, own: Path) -> None:
        (own / "mine.toml").write_bytes(b"\xef\xbb\xbf" + GOOD.encode())

        assert CourseFiles(own).refused() == ()

    def test_other_files_in_the_folder_are_passed_over(self, own: Path) -> None:
        (own / "notes.txt").write_text("not a course")
        (own / "mine.toml~").write_text("left by an editor")

        assert CourseFiles(own).refused() == ()

    def test_files_are_read_again_when_asked(self, own: Path, shipped: Path) -> None:
        courses = CourseFiles(own, shipped)
        before = len(courses.all())
        (own / "mine.toml").write_text(GOOD, encoding="utf-8")

        assert len(courses.all()) == before
        courses.reload()
        assert len(courses.all()) == before + 1

    def test_a_broken_file_takes_no_other_course_along(self, own: Path, shipped: Path) -> None:
        (own / "a.toml").write_text("key = ", encoding="utf-8")
        (own / "b.toml").write_text(GOOD, encoding="utf-8")

        courses = CourseFiles(own, shipped)

        assert [course.key for course in courses.all()] == ["ours", "mine"]
        assert len(courses.refused()) == 1

    def test_a_course_that_ships_broken_is_our_mistake_and_raised(self, own: Path, shipped: Path) -> None:
        (shipped / "broken.toml").write_text("key = 3", encoding="utf-8")

        with pytest.raises(CourseError, match=r"broken\.toml, line"):
            CourseFiles(own, shipped).all()


class TestRefusing:
    @pytest.mark.parametrize(
        ("old", "new", "line", "reason"),
        [
            ('name = "My course"', "name = My course", 3, "Invalid value"),
            ('name = "My course"', 'name = "My course', 3, "Illegal character"),
            ('name = "My course"', "", 1, "name: this entry is needed"),
            ('name = "My course"', "name = 7", 3, "name: words in quotes"),
            ('name = "My course"', 'nmae = "My course"', 3, "nmae: a course has no such entry"),
            ('stage = "infusion"', 'stage = "sip"', 21, "steps[2].stage: 'sip' is not one of"),
            ('stage = "infusion"', "", 18, "steps[2].stage"),
            ('stage = "infusion"', 'stage = "infusion"\nwhen = "now"', 22, "steps[2].when"),
            ('key = "sip"', 'key = "look"', 19, "steps[2].key: “look” is already the key"),
            ('prompt = "And now?"', '"prompt" = ""', 24, "steps[2].prompt"),
            ("infusions_s = [20, 25, 30]", "infusions_s = [20.5]", 27, "plans[1].infusions_s"),
            ("water_c = 95", "water_c = 195", 28, "plans[1].water_c"),
            ("[[plans]]", "[plans]", 1, "plans: at least one"),
        ],
    )
    def test_file_line_and_reason_are_told(self, own: Path, old: str, new: str, line: int, reason: str) -> None:
        refusal = _refusal(own, GOOD.replace(old, new))

        assert refusal.startswith(f"mine.toml, line {line}: "), refusal
        assert reason in refusal

    def test_an_unclosed_table_at_the_end_names_the_last_line(self, own: Path) -> None:
        refusal = _refusal(own, GOOD + "[[plans")

        assert refusal.startswith(f"mine.toml, line {GOOD.count(chr(10)) + 1}: ")

    def test_a_file_that_is_not_utf_8_names_the_line(self, own: Path) -> None:
        refusal = _refusal(own, GOOD.replace("My course", "Mein Kurs für Tee").encode("latin-1"))

        assert refusal == "mine.toml, line 3: this is not UTF-8 text. Save the file as UTF-8."

    def test_an_empty_file_is_refused(self, own: Path) -> None:
        assert "mine.toml, line 1: " in _refusal(own, "")

    def test_a_folder_with_the_name_of_a_course_is_refused(self, own: Path) -> None:
        (own / "mine.toml").mkdir()

        (refusal,) = CourseFiles(own).refused()

        assert refusal.startswith("mine.toml: it cannot be read")

    def test_the_second_of_two_own_courses_with_one_key_is_refused(self, own: Path) -> None:
        for name in ("a.toml", "b.toml"):
            (own / name).write_text(GOOD, encoding="utf-8")

        (refusal,) = CourseFiles(own).refused()

        assert refusal == "b.toml: a.toml has the key “mine” already."

    @pytest.mark.parametrize("table", ["steps = [{key = 1}]\n", "[steps]\nkey = 1\n"])
    def test_tables_written_another_way_are_refused_on_a_line_that_is_there(self, own: Path, table: str) -> None:
        refusal = _refusal(own, 'key = "mine"\nname = "Mine"\n' + table)

        assert refusal.startswith("mine.toml, line ")
        assert int(refusal.split("line ")[1].split(":")[0]) <= 4
