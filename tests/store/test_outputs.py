"""Files made for others: names that are safe everywhere; only their own kind is replaced."""

from __future__ import annotations

import ntpath
import os
import stat
import unicodedata
from pathlib import Path, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigtui.store.atomic import SaveError
from rigtui.store.outputs import file_names, made_folder, write_output
from rigtui.store.sheet_files import write_sheet


def is_midi(head: bytes) -> bool:
    """Whether a file begins like a MIDI file."""
    return head.startswith(b"MThd")


@pytest.mark.parametrize("there", [None, b"", b"MThd older"])
def test_written_where_nothing_is_lost(tmp_path: Path, there: bytes | None) -> None:
    """A new name, an empty file and an older file of the kind are written."""
    path = tmp_path / "a.mid"
    if there is not None:
        path.write_bytes(there)
    write_output(path, b"MThd new", "a MIDI file", is_midi)
    assert path.read_bytes() == b"MThd new"


def test_another_kind_of_file_is_left_alone(tmp_path: Path) -> None:
    """A rig named by mistake is still the rig afterwards."""
    path = tmp_path / "rig.toml"
    path.write_bytes(b"format = 1")
    with pytest.raises(SaveError, match=r"rig\.toml already exists and is not a MIDI file"):
        write_output(path, b"MThd new", "a MIDI file", is_midi)
    assert path.read_bytes() == b"format = 1"


@pytest.mark.parametrize(
    ("name", "says"),
    [(".", "is a folder"), ("no/such/a.mid", "folder doesn't exist"), ("a\0b", "can't be read")],
)
def test_places_that_take_no_file(tmp_path: Path, name: str, says: str) -> None:
    """A folder, a missing folder and a name that cannot be are refused with the reason."""
    with pytest.raises(SaveError, match=says):
        write_output(tmp_path / name, b"MThd", "a MIDI file", is_midi)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such pipes")
@pytest.mark.parametrize("linked", [False, True])
def test_pipes_and_devices_are_refused_at_once(tmp_path: Path, linked: bool) -> None:
    """Opened, a pipe would wait for a reader for ever; the words say what takes its place."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    path = pipe
    if linked:
        path = tmp_path / "link.mid"
        path.symlink_to(pipe)
    says = "is a pipe or a device, not a file: name a file, or - for standard output"
    with pytest.raises(SaveError, match=says):
        write_output(path, b"MThd new", "a MIDI file", is_midi)
    for replace in (False, True):
        with pytest.raises(SaveError, match=says):
            write_sheet(path, b"A sheet", replace)
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    with pytest.raises(SaveError, match=says):
        write_output(Path(os.devnull), b"MThd new", "a MIDI file", is_midi)


def test_a_folder_stays_only_with_something_in_it(tmp_path: Path) -> None:
    """One that was made for files that could not be written is taken away again."""
    for file in (None, "a.mid"):
        with made_folder(tmp_path / "cues"):
            if file is not None:
                (tmp_path / "cues" / file).write_bytes(b"MThd")
        assert (tmp_path / "cues").exists() == (file is not None)
    (tmp_path / "mine").mkdir()
    with made_folder(tmp_path / "mine"):
        pass
    assert (tmp_path / "mine").exists(), "it was there before"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no such pipes")
@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("file", "file is not a folder: choose another name"),
        ("pipe", "pipe is not a folder: choose another name"),
        ("file/cues", "file is not a folder: choose another one"),
        ("no/cues", "there is no folder .*no; make it first"),
    ],
)
def test_places_that_take_no_folder(tmp_path: Path, name: str, says: str) -> None:
    """What stands in the way is named, and is left alone."""
    (tmp_path / "file").write_bytes(b"A file")
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(SaveError, match=says), made_folder(tmp_path / name):
        pass
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "pipe"]


@pytest.mark.parametrize("replaced", [True, False])
def test_permissions_that_could_not_stay_are_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, replaced: bool
) -> None:
    """Of a file that is replaced; a new one has those that the system gives it."""
    path = tmp_path / "a.mid"
    if replaced:
        path.write_bytes(b"MThd older")
        path.chmod(0o640)

    def refused(*_: object) -> None:
        raise PermissionError

    monkeypatch.setattr(os, "fchmod", refused)
    told = "its permissions are now 0600 instead of 0640: the system changed them"
    assert write_output(path, b"MThd", "a MIDI file", is_midi) == (told if replaced else None)


# Microsoft, "Naming Files, Paths, and Namespaces".
DEVICES = (
    "CON", "PRN", "AUX", "NUL", *(f"COM{d}" for d in "123456789\u00b9\u00b2\u00b3"),
    *(f"LPT{d}" for d in "123456789\u00b9\u00b2\u00b3"),
)  # fmt: skip
BARRED = '<>:"/\\|?*'
PARTS = st.one_of(
    st.text(max_size=40),
    st.sampled_from((*DEVICES, "con", "Aux", "nul ", "..", ".", "", " ", "a.", "com1.tar", "~")),
    st.sampled_from(
        ("../up", "/etc", "C:\\x", "a\0b", "\ud800", "e\u0301", "\xe9", "\u212b", "\xdf", "SS")
    ),
    st.sampled_from("abAB").map(lambda char: char * 300),
    st.sampled_from(("\xe9" * 127, "\U0001f3b8" * 64)),
)
NAMES = st.lists(st.lists(PARTS, max_size=3).map("".join), max_size=12)


def _reserved(name: str) -> bool:
    """Whether Windows reserves a name, as the standard library has it."""
    judge = getattr(ntpath, "isreserved", None)  # Python 3.13
    return judge(name) if judge else PureWindowsPath(name).is_reserved()


@given(NAMES, st.sampled_from([".mid", ".pdf", ".md"]))
def test_any_names_make_names_of_files(names: list[str], ending: str) -> None:
    """In the folder, of characters that all systems take, no device, not too long."""
    made = file_names(names, ending)
    assert len(made) == len(names)
    for name in made:
        assert Path(name).name == PureWindowsPath(name).name == name
        assert name.endswith(ending)
        assert not set(name) & set(BARRED)
        assert all(unicodedata.category(char) not in ("Cc", "Cs") for char in name)
        assert len(name.encode()) <= 255
        assert name[0] not in ". "
        assert not _reserved(name)
        stem = name.removesuffix(ending)
        assert stem
        assert stem[-1] not in ". "
        assert stem.partition(".")[0].rstrip().upper() not in DEVICES


@given(NAMES)
def test_no_two_files_have_one_name(names: list[str]) -> None:
    """Not even on a disk that takes capitals, or two spellings of an accent, for the same."""
    made = file_names(names, ".mid")
    for fold in (str.lower, str.upper, str.casefold):
        for form in ("NFC", "NFD"):
            assert len({fold(unicodedata.normalize(form, name)) for name in made}) == len(made)


def test_names_that_would_be_one_are_counted_on() -> None:
    """From two, whatever capitals they are in; a name that is taken by such a number goes on."""
    names = ["low", "low", "Low", "low-2", "tin"]
    made = ["low.mid", "low-2.mid", "Low-3.mid", "low-2-2.mid", "tin.mid"]
    assert file_names(names, ".mid") == made


def test_a_long_name_loses_no_more_than_it_must() -> None:
    """255 bytes fit, of which one is left for the dash behind the name of a device."""
    (plain,) = file_names(["a" * 300], ".mid")
    assert plain == "a" * 250 + ".mid"
    (device,) = file_names(["con." + "a" * 300], ".mid")
    assert device == "con-." + "a" * 246 + ".mid"
    assert len(device) == 255


@given(st.lists(st.from_regex(r"[a-z0-9][a-z0-9-]{0,31}", fullmatch=True), unique=True))
def test_names_that_are_fit_stay(names: list[str]) -> None:
    """As ids are, but for those of devices."""
    for name, made in zip(names, file_names(names, ".mid")):
        assert made == f"{name}-.mid" if name.upper() in DEVICES else made.startswith(name)
        if not {name.upper() for name in names} & set(DEVICES):
            assert made == f"{name}.mid"


def test_written_into_one_folder(tmp_path: Path) -> None:
    """The system itself takes the names, and there is a file for each."""
    names = ["..", "../x", "x", "X", "con", "e\u0301" * 200, "\xe9" * 200, "", " ", "a/b", "a\\b"]
    for name in file_names(names, ".mid"):
        (tmp_path / name).write_bytes(b"MThd")
    assert len(list(tmp_path.iterdir())) == len(names)
    assert [file.name for file in tmp_path.parent.iterdir()].count(tmp_path.name) == 1


@pytest.mark.parametrize(("there", "is_rig"), [
    ('format = 1\nname = "Mine"\n', True), ('name = "Mine"\n', False), ("format = 1\n", False),
])  # fmt: skip
def test_a_sheet_is_never_written_over_a_rig_whatever_it_is_called(
    tmp_path: Path, there: str, is_rig: bool
) -> None:
    """A rig has a format and a name; another file may be replaced where that is asked for."""
    path = tmp_path / "sheet.txt"
    path.write_text(there)
    if is_rig:
        with pytest.raises(SaveError, match="never writes a sheet over one"):
            write_sheet(path, b"new", replace=True)
        assert path.read_text() == there
    else:
        write_sheet(path, b"new", replace=True)
        assert path.read_bytes() == b"new"
