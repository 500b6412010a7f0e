"""Points from a CSV file: what is read, and how what is not is refused."""

from __future__ import annotations

import os

import pytest

from sweep.errors import SceneError
from sweep.scene.points import points_in, read_points
from sweep.scene.target import MOST_POINTS


@pytest.mark.parametrize("text", ["-1,0\n0,5\n1,0", "y,z\n-1,0\n0,5\n1,0\n", "# mm\r\n-1, 0\r\n\r\n0,5\r\n1,0"])
def test_points_are_read_with_or_without_a_first_line_of_words(tmp_path, text):
    """And with either system's ends of lines."""
    (tmp_path / "a.csv").write_bytes(text.encode())

    assert points_in(tmp_path / "a.csv") == [[-1, 0], [0, 5], [1, 0]]


@pytest.mark.parametrize("first", ["y in,z in", "Y [in], Z [in]", "y, z in inches", "across (inch), up"])
def test_points_below_a_first_line_that_says_so_are_in_inches(tmp_path, first):
    """As decimals or as fractions."""
    (tmp_path / "a.csv").write_text(f"{first}\n-1 1/4,0\n-.5, 3/8\n+1.25, 0\n")

    assert points_in(tmp_path / "a.csv") == [[-31.75, 0], [-12.7, 0.375 * 25.4], [31.75, 0]]


@pytest.mark.parametrize("first", ["y,z in mm", "in,out", "y in mm,z in mm"])
def test_a_first_line_that_only_has_the_word_in_it_leaves_them_in_mm(tmp_path, first):
    """An inch is not guessed."""
    (tmp_path / "a.csv").write_text(f"{first}\n-1,0\n0,5\n1,0\n")

    assert points_in(tmp_path / "a.csv") == [[-1, 0], [0, 5], [1, 0]]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"%PDF-1.7", "this is a PDF document"),
        (b"AC1032", "this is a DWG drawing"),
        (b"PK\x03\x04", "this is a zip archive"),
        (b"1,2\n\xff,3", "not text in UTF-8"),
        (b"1,2\n\0,3", "not text"),
        (b"1;2\n3;4", "point 1 is '1;2'"),
        (b"y in,z in\n1/2,1/0", "point 2 is '1/2,1/0'"),
        (b"y in,z in\n1/2,inf", "point 2 is '1/2,inf'"),
        (b"1,2\nnan,4", "point 2 is 'nan,4'"),
        (b"1,2\n3,inf", "point 2 is '3,inf'"),
        (b"1,2\n3,4,5", "point 2 is '3,4,5'"),
        (b'1,2\n"3,4\n5,6', "point 2 is '\"3,4'"),
        (b"y,z\n" + b"1," + b"9" * 200_000, "point 2 is '1,9999"),
        (b"1,2\n" * (MOST_POINTS + 2), "more than 10,000 points"),
        (b"1,2\n" * 300_000, "larger than 1 MB"),
    ],
)
def test_what_is_no_list_of_points_is_refused(tmp_path, content, says):
    """In one short sentence that names the file, the point, and what to write."""
    (tmp_path / "a.csv").write_bytes(content)

    with pytest.raises(SceneError, match=says) as caught:
        read_points(tmp_path / "a.csv")

    assert str(tmp_path / "a.csv") in str(caught.value)
    assert len(caught.value.problem.said()) < 100


@pytest.mark.parametrize("name", ["none.csv", "a" * 300 + ".csv", "a\0b.csv", ".", "a/b.svg", "fifo.csv"])
def test_what_is_no_file_is_refused(tmp_path, name):
    """Too long a name and one that no file can have are the system's errors, in our words."""
    os.mkfifo(tmp_path / "fifo.csv")

    with pytest.raises(SceneError):
        points_in(tmp_path / name)


def test_a_file_that_has_no_end_is_not_read_to_it():
    """Its size is said to be 0."""
    with pytest.raises(SceneError):
        read_points(read_points.__globals__["Path"]("/dev/zero"))
