"""Thousands of odd files: each is opened or refused in words, and none is run, lost or hung on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from examples import examples
from fuzz.near_valid import DEMOS, mutated, near_valid
from fuzz.pipeline import counts, planned, sheets_looked_at, shown_everywhere, through
from hypothesis import given
from hypothesis import strategies as st
from screens import LARGE, app_on, on_screen

from rigtui.store.load import BadRigError, read_plain
from rigtui.tui.app import RigApp

SEEDS = st.integers(0, 2**40)


@pytest.fixture(scope="module")
def spot(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A place for one file after the other."""
    return tmp_path_factory.mktemp("fuzz") / "rig.toml"


@given(SEEDS)
@examples(20)
def test_nearly_good_rigs(spot: Path, seed: int) -> None:
    """Read, reported and saved, or refused with a place."""
    through(spot, near_valid(Random(seed)))


@given(SEEDS)
@examples(20)
def test_spoiled_bytes(spot: Path, seed: int) -> None:
    """The same for what a bad disk or a bad copy makes of a file."""
    through(spot, mutated(Random(seed)))


@given(st.binary(max_size=300))
@examples(20)
def test_any_bytes(spot: Path, content: bytes) -> None:
    """The same for what is no rig file at all."""
    through(spot, content)


async def _all_shown(
    spot: Path, count: int, kinds: tuple[Callable[[Random], bytes], ...], every: int, seconds: float
) -> int:
    """Show the good ones of some files on the screens, one after the other in one program.

    For every so many of them the sheets are written, too, and a plan is started, which is stopped
    after some seconds.
    """
    shown, plans = 0, 0
    spot.write_bytes(DEMOS[0])
    app = app_on(spot)
    async with on_screen(app, LARGE) as pilot:
        for seed in range(count):
            rng = Random(seed)
            rig = through(spot, rng.choice(kinds)(rng))
            if rig is not None:
                await shown_everywhere(app, pilot, spot, rig)
                shown += 1
                if shown % every == 0:
                    await sheets_looked_at(app, pilot, spot.parent)
                    await planned(app, pilot, seconds)
                    plans += 1
    assert plans
    return shown


async def test_nearly_good_rigs_on_the_screens(tmp_path: Path) -> None:
    """Whatever loads can be looked at in every view."""
    assert await _all_shown(tmp_path / "rig.toml", 12, (near_valid,), 4, 0.2) > 1


async def _opened(content: bytes, path: Path) -> None:
    path.write_bytes(content)
    try:
        source = read_plain(path)
    except BadRigError:
        return
    app = RigApp(source)
    async with on_screen(app, LARGE) as pilot:
        await pilot.pause()
    assert (app.fault is not None) == (app.return_code == 2)


ODD = {
    "a name of a huge number": b"format = 1\nname = 0x" + b"f" * 6000,
    "a name of a table": b"format = 1\n[name]\na = 1\n",
    "presets of numbers": b"format = 1\nname = 'x'\npresets = [1, 2]\nloops = [3]\n",
    "presets of a table": b"format = 1\nname = 'x'\n[presets]\n[loops]\n",
    "loops of a list": b"format=1\nname='x'\n[[loops]]\nnumber=[[]]\n[[presets]]\nid='a'\n"
    b"loops=[[1]]\n",
    "a loop of a huge number": b"format=1\nname='x'\n[[loops]]\nnumber=0x" + b"f" * 6000
    + b"\n[[presets]]\nid='a'\n",
    "a bank of nothing": b"format=1\nname='x'\nloops=[]\n[switcher]\nbank_size=0\n[[presets]]\n"
    b"id='a'\nmemory=3\n",
    "a memory of text": b"format=1\nname='x'\nloops=[]\n[switcher]\nbank_size=4\n[[presets]]\n"
    b"id='a'\nmemory='x'\n",
    "a memory of infinity": b"format=1\nname='x'\nloops=[]\n[switcher]\nbank_size=4\n[[presets]]\n"
    b"id='a'\nmemory=inf\n",
    "a preset named by a list": b"format=1\nname='x'\nloops=[]\n[[presets]]\nid=['a']\nname=[1]\n",
    "a role of a date": b"format=1\nname='x'\nloops=[]\n[[presets]]\nid='a'\nrole=2027-03-05\n",
    "a pedal of a number": b"format=1\nname='x'\npresets=[]\n[[loops]]\nnumber=1\npedals=[7]\n",
}  # fmt: skip


@pytest.mark.parametrize("content", ODD.values(), ids=ODD)
async def test_a_bad_file_is_refused_after_its_first_sight(tmp_path: Path, content: bytes) -> None:
    """The screens paint a file before anything has checked it; whatever is in it, they survive."""
    await _opened(content, tmp_path / "rig.toml")


Record = Callable[[str, object], None]


@pytest.mark.long
@pytest.mark.parametrize("part", range(8))
def test_many_thousand_odd_files(tmp_path: Path, part: int, record_property: Record) -> None:
    """The same by the thousand; how many were good and refused is counted."""
    counts.clear()
    for seed in range(part * 2_500, (part + 1) * 2_500):
        rng = Random(seed)
        through(tmp_path / "rig.toml", rng.choice((near_valid, mutated))(rng))
    record_property("counts", dict(counts))
    assert counts["good"] > 250
    assert counts["refused"] > 600


@pytest.mark.long
async def test_a_thousand_odd_files_on_the_screens(tmp_path: Path, record_property: Record) -> None:
    """Those of them that are good, in every view, with all sheets; plans for some of them."""
    counts.clear()
    shown = await _all_shown(tmp_path / "rig.toml", 2_000, (near_valid, mutated), 8, 1.0)
    record_property("counts", dict(counts))
    assert shown > 300


@pytest.mark.long
@pytest.mark.parametrize("seed", range(400))
async def test_many_bad_files_are_opened(tmp_path: Path, seed: int) -> None:
    """Files that no check has seen yet, each in a program of its own."""
    rng = Random(seed)
    await _opened(near_valid(rng), tmp_path / "rig.toml")
