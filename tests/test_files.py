"""Files are written whole or not at all."""

from __future__ import annotations

import os
import stat

import pytest

from linecalc import files
from linecalc.errors import InputError
from linecalc.files import write_new, write_whole


def test_text_is_written_as_utf_8_with_plain_newlines(tmp_path):
    write_whole(tmp_path / "a.txt", "é\nb\n")
    assert (tmp_path / "a.txt").read_bytes() == "é\nb\n".encode()


def test_bytes_are_written_as_they_are(tmp_path):
    write_whole(tmp_path / "a.bin", b"\x00\r\n\xff")
    assert (tmp_path / "a.bin").read_bytes() == b"\x00\r\n\xff"


def test_an_existing_file_is_replaced_and_keeps_its_permissions(tmp_path):
    path = tmp_path / "a.txt"
    path.write_text("old")
    path.chmod(0o640)
    write_whole(path, "new")
    assert path.read_text() == "new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_new_file_gets_the_usual_permissions(tmp_path):
    (tmp_path / "usual").write_text("")
    write_whole(tmp_path / "a.txt", "x")
    assert (tmp_path / "a.txt").stat().st_mode == (tmp_path / "usual").stat().st_mode


def test_nothing_else_is_left_in_the_directory(tmp_path):
    write_whole(tmp_path / "a.txt", "x")
    assert os.listdir(tmp_path) == ["a.txt"]


@pytest.mark.parametrize("failing", ["open", "replace"])
def test_a_failure_half_way_leaves_the_old_file_and_no_part(tmp_path, monkeypatch, failing):
    path = tmp_path / "a.txt"
    path.write_text("old")

    def full(*arguments, **keywords):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, failing, full)
    with pytest.raises(InputError, match="a.txt: cannot be written: No space left on device"):
        write_whole(path, "new")
    assert path.read_text() == "old"
    assert os.listdir(tmp_path) == ["a.txt"]


def test_an_interruption_half_way_leaves_no_part(tmp_path, monkeypatch):
    def interrupted(*arguments):
        raise KeyboardInterrupt

    monkeypatch.setattr(files.os, "replace", interrupted)
    with pytest.raises(KeyboardInterrupt):
        write_whole(tmp_path / "a.txt", "new")
    assert os.listdir(tmp_path) == []


def test_a_missing_directory_is_an_input_error(tmp_path):
    with pytest.raises(InputError, match="there is no such directory"):
        write_whole(tmp_path / "none" / "a.txt", "x")


def test_a_directory_is_never_replaced(tmp_path):
    (tmp_path / "a").mkdir()
    with pytest.raises(InputError, match="is a directory"):
        write_whole(tmp_path / "a", "x")
    assert (tmp_path / "a").is_dir()


def test_a_file_in_place_of_a_directory_is_an_input_error(tmp_path):
    (tmp_path / "a").write_text("x")
    with pytest.raises(InputError, match="cannot be written"):
        write_whole(tmp_path / "a" / "b.txt", "x")


@pytest.mark.parametrize("name", ["x" * 300, "a\x00b"])
def test_an_impossible_name_is_an_input_error(tmp_path, name):
    with pytest.raises(InputError, match="cannot be written"):
        write_whole(tmp_path / name, "x")


def test_a_link_is_followed(tmp_path):
    (tmp_path / "real.txt").write_text("old")
    (tmp_path / "link.txt").symlink_to(tmp_path / "real.txt")
    write_whole(tmp_path / "link.txt", "new")
    assert (tmp_path / "link.txt").is_symlink()
    assert (tmp_path / "real.txt").read_text() == "new"


@pytest.mark.skipif(not os.path.exists("/dev/null"), reason="no such device")
def test_a_device_is_written_to_and_not_replaced():
    write_whole("/dev/null", "x")
    assert stat.S_ISCHR(os.stat("/dev/null").st_mode)


def test_write_new_never_overwrites(tmp_path):
    write_new(tmp_path / "a.txt", "first")
    with pytest.raises(InputError, match="exists already; nothing is overwritten"):
        write_new(tmp_path / "a.txt", "second")
    assert (tmp_path / "a.txt").read_text() == "first"


def test_write_new_does_not_write_through_a_dangling_link(tmp_path):
    (tmp_path / "link.txt").symlink_to(tmp_path / "elsewhere.txt")
    with pytest.raises(InputError, match="exists already"):
        write_new(tmp_path / "link.txt", "x")
    assert not (tmp_path / "elsewhere.txt").exists()
