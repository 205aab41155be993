"""Edits drawn at random, the very functions that the screens use, for tests of what is kept."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from rigtui.model import Rig, edits
from rigtui.model.errors import EditError

_NAMES = ("Slow one", "Loud", "[b]x[/b]", "Über", "it's", "# no comment", "a = 1", "-")


def draw_edit(rng: Random, rig: Rig) -> tuple[str, Rig]:
    """One edit of a rig: what it is called, and the rig after it; not all change something."""
    for _ in range(20):
        edit = rng.choice(_EDITS)
        try:
            return edit.__name__.strip("_"), edit(rng, rig)
        except (EditError, IndexError):  # nothing there to be edited in that way
            continue
    return "rename the rig", rig.model_copy(update={"name": f"Rig {rng.randrange(10**6)}"})


def draw_edits(rng: Random, rig: Rig, most: int = 4) -> Rig:
    """A rig after some edits."""
    for _ in range(rng.randrange(1, most + 1)):
        _, rig = draw_edit(rng, rig)
    return rig


def _song(rng: Random, rig: Rig) -> str:
    return rng.choice(rig.songs).id


def _section(rng: Random, rig: Rig) -> tuple[str, int]:
    song = rng.choice(rig.songs)
    return song.id, rng.choice(range(len(song.sections)))


def _set(rng: Random, rig: Rig) -> tuple[str, int]:
    setlist = rng.choice(rig.setlists)
    return setlist.id, rng.choice(range(len(setlist.sets)))


def _set_song(rng: Random, rig: Rig) -> Rig:
    fields = {"tempo": rng.randrange(60, 200), "title": rng.choice(_NAMES), "capo": 2, "note": None}
    key = rng.choice(list(fields))
    return edits.set_song(rig, _song(rng, rig), **{key: fields[key]})


def _add_song(rng: Random, rig: Rig) -> Rig:
    title, tempo = rng.choice(_NAMES), rng.randrange(60, 200)
    return edits.add_song(rig, title, tempo, rng.randrange(len(rig.songs) + 1))


def _delete_song(rng: Random, rig: Rig) -> Rig:
    return edits.delete_song(rig, _song(rng, rig))


def _double_song(rng: Random, rig: Rig) -> Rig:
    return edits.duplicate_song(rig, _song(rng, rig))


def _move_song(rng: Random, rig: Rig) -> Rig:
    return edits.move_song(rig, _song(rng, rig), rng.choice((-2, -1, 1, 2)))


def _rename_song(rng: Random, rig: Rig) -> Rig:
    return edits.set_song_id(rig, _song(rng, rig), f"renamed-{rng.randrange(10**6)}")


def _set_section(rng: Random, rig: Rig) -> Rig:
    fields = {"bars": rng.randrange(1, 33), "hands": rng.choice(_NAMES), "name": "Bridge"}
    key = rng.choice(list(fields))
    return edits.set_section(rig, *_section(rng, rig), **{key: fields[key]})


def _add_section(rng: Random, rig: Rig) -> Rig:
    song = rng.choice(rig.songs)
    at = rng.randrange(len(song.sections) + 1)
    return edits.add_section(rig, song.id, rng.choice(_NAMES), rng.randrange(1, 17), at)


def _delete_section(rng: Random, rig: Rig) -> Rig:
    return edits.delete_section(rig, *_section(rng, rig))


def _move_sections(rng: Random, rig: Rig) -> Rig:
    song = rng.choice(rig.songs)
    places = [at for at in range(len(song.sections)) if rng.random() < 0.4]
    return edits.move_sections(rig, song.id, places, rng.choice((-1, 1)))


def _move_several(rng: Random, rig: Rig) -> Rig:
    setlist = rng.choice(rig.setlists)
    places = [
        (set_at, at)
        for set_at, part in enumerate(setlist.sets)
        for at in range(len(part.songs))
        if rng.random() < 0.4
    ]
    return edits.move_several_in_sets(rig, setlist.id, places, rng.choice((-1, 1)))


def _split_set(rng: Random, rig: Rig) -> Rig:
    setlist_id, at = _set(rng, rig)
    return edits.split_set(rig, setlist_id, at, rng.randrange(4), rng.choice(_NAMES))


def _join_set(rng: Random, rig: Rig) -> Rig:
    return edits.join_set(rig, *_set(rng, rig))


def _move_section(rng: Random, rig: Rig) -> Rig:
    return edits.move_section(rig, *_section(rng, rig), rng.choice((-1, 1)))


def _map_section(rng: Random, rig: Rig) -> Rig:
    return edits.map_section(rig, *_section(rng, rig), rng.choice(rig.presets).id)


def _toggle_loop(rng: Random, rig: Rig) -> Rig:
    number = rng.choice(rig.loops).number
    return edits.toggle_loop(rig, rng.choice(rig.presets).id, number)


def _set_preset(rng: Random, rig: Rig) -> Rig:
    fields = {"name": rng.choice(_NAMES), "guitar_volume": rng.randrange(11), "role": "lead"}
    key = rng.choice(list(fields))
    return edits.set_preset(rig, rng.choice(rig.presets).id, **{key: fields[key]})


def _add_preset(rng: Random, rig: Rig) -> Rig:
    return edits.add_preset(rig, rng.choice(_NAMES), rng.randrange(len(rig.presets) + 1))


def _delete_preset(rng: Random, rig: Rig) -> Rig:
    return edits.delete_preset(rig, rng.choice(rig.presets).id)


def _move_preset(rng: Random, rig: Rig) -> Rig:
    return edits.move_preset(rig, rng.choice(rig.presets).id, rng.choice((-2, -1, 1)))


def _add_setlist(rng: Random, rig: Rig) -> Rig:
    return edits.add_setlist(rig, rng.choice(_NAMES))


def _add_set(rng: Random, rig: Rig) -> Rig:
    return edits.add_set(rig, rng.choice(rig.setlists).id, rng.choice(_NAMES))


def _add_to_set(rng: Random, rig: Rig) -> Rig:
    return edits.add_to_set(rig, *_set(rng, rig), _song(rng, rig))


def _waive(rng: Random, rig: Rig) -> Rig:
    return edits.waive(rig, "tail-cut", f"songs.{_song(rng, rig)}", rng.choice(_NAMES))


def _set_amp(rng: Random, rig: Rig) -> Rig:
    return edits.set_amp(rig, name=rng.choice(_NAMES))


def _set_place(rng: Random, rig: Rig) -> Rig:
    device = rng.choice(["Switcher", *(pedal.id for pedal in rig.pedals)])
    fields = {"x_mm": rng.randrange(-50, 800), "turn": rng.choice((0, 90)), "width_mm": 71.5}
    key = rng.choice(list(fields))
    return edits.set_place(rig, device, **{key: fields[key]})


def _take_place(rng: Random, rig: Rig) -> Rig:
    return edits.take_place(rig, rng.choice(rig.places).device)


def _test_lead(rng: Random, rig: Rig) -> Rig:
    pedal = rng.choice(rig.pedals).id
    known = rng.choice(({"tip": "closed"}, {"route_mm": 250}, {"tip": None, "route_mm": None}))
    return edits.set_patch_lead(rig, f"Switcher send {rng.randrange(1, 4)}", f"{pedal} in", **known)


def _add_reel(rng: Random, rig: Rig) -> Rig:
    return edits.add_reel(rig, left_mm=rng.randrange(100, 9000), name=rng.choice(_NAMES))


def _set_bench(rng: Random, rig: Rig) -> Rig:
    return edits.set_bench(
        rig, width_mm=rng.choice((600, 800.5, None)), slack_mm=rng.choice((30, 40))
    )


_EDITS: tuple[Callable[[Random, Rig], Rig], ...] = (
    _set_song, _set_song, _add_song, _delete_song, _double_song, _move_song, _rename_song,
    _set_section, _set_section, _add_section, _delete_section, _move_section, _map_section,
    _move_sections, _move_several, _split_set, _join_set,
    _toggle_loop, _set_preset, _add_preset, _delete_preset, _move_preset,
    _add_setlist, _add_set, _add_to_set, _waive, _set_amp,
    _set_place, _set_place, _take_place, _test_lead, _test_lead, _add_reel, _set_bench,
)  # fmt: skip
