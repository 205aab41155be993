"""Bad data is told where it is, what is wrong and what would be right, all of it at once."""

from __future__ import annotations

import datetime
import math
from typing import Any

import pytest
from rigs_made import Data, make_data, section

from rigtui.model import BadRigError, EditError, rig_from_data
from rigtui.model.edits import set_switcher


def problems(data: Any) -> list[str]:
    """Every problem of the data as one line of text."""
    with pytest.raises(BadRigError) as caught:
        rig_from_data(data)
    assert str(caught.value).splitlines() == [problem.text() for problem in caught.value.problems]
    return [problem.text() for problem in caught.value.problems]


def of_song(**more: Any) -> Data:
    return make_data(songs=[{"id": "low-fen", "tempo": 118, **more}])


def of_section(**more: Any) -> Data:
    return of_song(sections=[section(), section(**more)])


def of_pedal(**more: Any) -> Data:
    return make_data(pedals=[{"id": "wah", "kind": "wah", "side": "front", **more}])


def of_preset(**more: Any) -> Data:
    return make_data(presets=[{"id": "lead", **more}])


def of_switcher(**more: Any) -> Data:
    return make_data(switcher={"memories": 8, "bank_size": 4, **more})


def of_setlist(**more: Any) -> Data:
    return make_data(setlists=[{"id": "friday", **more}])


def of_loop(**more: Any) -> Data:
    return make_data(loops=[{"number": 2, "side": "front", **more}])


HUGE = 10**400

WRONG_TYPES = [
    (make_data(name=5), "name: must be text in quotes, not 5"),
    (make_data(name=b"x"), "name: must be text in quotes, not bytes"),
    (
        make_data(name="half\ud800"),
        'name: must be text without broken characters, not "half\ufffd"',
    ),
    (make_data(amp=[]), "amp: must be a table, not a list"),
    (make_data(amp=None), "amp: must be a table, not nothing"),
    (make_data(switcher="six loops"), 'switcher: must be a table, not "six loops"'),
    (make_data(pedals={}), "pedals: must be a list in square brackets, not a table"),
    (make_data(pedals=[3]), "pedals.0: must be a table, not 3"),
    (make_data(pedals=[[]]), "pedals.0: must be a table, not a list"),
    (make_data(format=True), "format: must be a whole number, not true"),
    (make_data(format="1"), 'format: must be a whole number, not "1"'),
    (make_data(format=1.0), "format: must be a whole number, not 1.0"),
    (of_switcher(memories=True), "switcher.memories: must be a whole number, not true"),
    (of_switcher(memories=8.0), "switcher.memories: must be a whole number, not 8.0"),
    (of_switcher(loop_switches=0), "switcher.loop_switches: must be true or false, not 0"),
    (of_pedal(tap="yes"), 'pedals.wah.tap: must be true or false, not "yes"'),
    (of_pedal(delay_ms="375"), 'pedals.wah.delay_ms: must be a number, not "375"'),
    (of_song(tempo="fast"), 'songs.low-fen.tempo: must be a number, not "fast"'),
    (of_song(tempo=True), "songs.low-fen.tempo: must be a number, not true"),
    (of_song(capo=False), "songs.low-fen.capo: must be a whole number, not false"),
    (
        of_song(sections={}),
        "songs.low-fen.sections: must be a list in square brackets, not a table",
    ),
    (of_song(sections=["A"]), 'songs.low-fen.sections.0: must be a table, not "A"'),
    (of_song(meter=4), 'songs.low-fen.meter: must be text such as "4/4", not 4'),
    (
        of_section(plus="wah"),
        'songs.low-fen.sections.1.plus: must be a list in square brackets, not "wah"',
    ),
    (
        of_section(plus=["wah", 3]),
        "songs.low-fen.sections.1.plus.1: must be text in quotes, not 3",
    ),
    (of_preset(loops=["1"]), 'presets.lead.loops.0: must be a loop\'s number, not "1"'),
    (of_preset(loops=[1, True]), "presets.lead.loops.1: must be a loop's number, not true"),
    (
        make_data(chain={"front": ["wah", 1, True]}),
        "chain.front.2: must be a pedal's id in quotes or a loop's number, not true",
    ),
    (
        make_data(chain={"fx": [1.5]}),
        "chain.fx.0: must be a pedal's id in quotes or a loop's number, not 1.5",
    ),
]

DATES = [
    ("2027-03-05", 'must be a date such as 2027-03-05, without quotes, not "2027-03-05"'),
    (
        datetime.datetime(2027, 3, 5),
        "must be a date such as 2027-03-05, without a time, not 2027-03-05 00:00:00",
    ),
    (
        datetime.datetime(2027, 3, 5, 20, 30),
        "must be a date such as 2027-03-05, without a time, not 2027-03-05 20:30:00",
    ),
    (datetime.time(20, 30), "must be a date such as 2027-03-05, not 20:30:00"),
    (20270305, "must be a date such as 2027-03-05, not 20270305"),
]

OUT_OF_RANGE = [
    (make_data(format=0), "format: must be 1, not 0"),
    (make_data(format=2), "format: must be 1, not 2: you need a newer rigtui to read it"),
    (of_switcher(memories=0), "switcher.memories: must be 1 to 128, not 0"),
    (of_switcher(memories=200), "switcher.memories: must be 1 to 128, not 200"),
    (of_switcher(bank_size=-1), "switcher.bank_size: must be 1 to 128, not -1"),
    (
        of_switcher(switch_spacing_mm=0),
        "switcher.switch_spacing_mm: must be more than 0 and at most 1000, not 0",
    ),
    (of_song(tempo=0), "songs.low-fen.tempo: must be more than 0 and at most 1000, not 0"),
    (of_song(tempo=-1.5), "songs.low-fen.tempo: must be more than 0 and at most 1000, not -1.5"),
    (of_song(tempo=1e-9), "songs.low-fen.tempo: is too slow to play: use 0.001 or more, not 1e-09"),
    (of_song(tempo=math.nan), "songs.low-fen.tempo: must be a finite number, not nan"),
    (of_song(tempo=math.inf), "songs.low-fen.tempo: must be a finite number, not inf"),
    (of_song(tempo=-math.inf), "songs.low-fen.tempo: must be a finite number, not -inf"),
    (of_song(capo=25), "songs.low-fen.capo: must be 0 to 24, not 25"),
    (
        of_section(bars=0),
        "songs.low-fen.sections.1.bars: must be more than 0 and at most 100000, not 0",
    ),
    (
        of_section(rest_beats=-1),
        "songs.low-fen.sections.1.rest_beats: must be 0 to 10000, not -1",
    ),
    (
        of_section(guitar_volume=11),
        "songs.low-fen.sections.1.guitar_volume: must be 0 to 10, not 11",
    ),
    (of_pedal(feedback=1), "pedals.wah.feedback: must be 0 or more and less than 1, not 1"),
    (of_preset(memory=0), "presets.lead.memory: must be 1 to 9999, not 0"),
    (of_preset(guitar_volume=-0.5), "presets.lead.guitar_volume: must be 0 to 10, not -0.5"),
    (of_loop(number=100), "loops.100.number: must be 1 to 99, not 100"),
    (make_data(player={"moves_allowed": -1}), "player.moves_allowed: must be 0 to 20, not -1"),
    (make_data(player={"press_seconds": -1}), "player.press_seconds: must be 0 to 3600, not -1"),
    (of_pedal(name="x" * 201), "pedals.wah.name: is 201 characters long: use at most 200"),
    (of_pedal(note="x" * 20_001), "pedals.wah.note: is 20001 characters long: use at most 20000"),
]

HUGE_NUMBERS = [
    (
        make_data(format=HUGE),
        "format: must be 1, not a very large number: you need a newer rigtui to read it",
    ),
    (of_switcher(memories=HUGE), "switcher.memories: must be 1 to 128, not a very large number"),
    (
        of_song(tempo=HUGE),
        "songs.low-fen.tempo: must be more than 0 and at most 1000, not a very large number",
    ),
    (of_preset(memory=HUGE), "presets.lead.memory: must be 1 to 9999, not a very large number"),
    (
        of_preset(loops=[HUGE]),
        "presets.lead.loops.0: must be a loop's number, not a very large number",
    ),
    (of_loop(number=HUGE), "loops.0.number: must be 1 to 99, not a very large number"),
    (
        make_data(chain={"front": [-HUGE]}),
        "chain.front.0: must be a pedal's id in quotes or a loop's number, not a very large number",
    ),
]

METERS = [
    ("4", 'must be two whole numbers with a slash, e.g. "4/4", not "4"'),
    ("4/4/4", 'must be two whole numbers with a slash, e.g. "4/4", not "4/4/4"'),
    ("4.5/4", 'must be two whole numbers with a slash, e.g. "4/4", not "4.5/4"'),
    (" 4/4", 'must be two whole numbers with a slash, e.g. "4/4", not " 4/4"'),
    ("\u00b2/4", 'must be two whole numbers with a slash, e.g. "4/4", not "\u00b2/4"'),
    ("0/4", 'must have 1 to 64 above the slash and 1, 2, 4, 8, 16, 32 or 64 below it, not "0/4"'),
    ("4/0", 'must have 1 to 64 above the slash and 1, 2, 4, 8, 16, 32 or 64 below it, not "4/0"'),
    ("4/3", 'must have 1 to 64 above the slash and 1, 2, 4, 8, 16, 32 or 64 below it, not "4/3"'),
    (
        "9" * 9999 + "/4",
        "must have 1 to 64 above the slash and 1, 2, 4, 8, 16, 32 or 64 below it, "
        f'not "{"9" * 39}\u2026"',
    ),
]

MISSING = [
    ({}, {"format": "format = 1", "name": 'name = "My rig"'}),
    (
        make_data(switcher={}),
        {"switcher.memories": "memories = 8", "switcher.bank_size": "bank_size = 4"},
    ),
    (
        make_data(pedals=[{}]),
        {
            "pedals.0.id": 'id = "wah"',
            "pedals.0.kind": 'kind = "overdrive"',
            "pedals.0.side": 'side = "front"',
        },
    ),
    (make_data(loops=[{}]), {"loops.0.number": "number = 1", "loops.0.side": 'side = "front"'}),
    (make_data(presets=[{}]), {"presets.0.id": 'id = "verse-clean"'}),
    (make_data(songs=[{}]), {"songs.0.id": 'id = "low-fen"', "songs.0.tempo": "tempo = 118"}),
    (
        of_song(sections=[{}]),
        {
            "songs.low-fen.sections.0.name": 'name = "Verse"',
            "songs.low-fen.sections.0.bars": "bars = 8",
        },
    ),
    (make_data(setlists=[{}]), {"setlists.0.id": 'id = "friday"'}),
    (of_setlist(sets=[{}]), {"setlists.friday.sets.0.songs": 'songs = ["low-fen"]'}),
    (
        make_data(waivers=[{}]),
        {
            "waivers.0.rule": 'rule = "gate-on-clean"',
            "waivers.0.where": 'where = "presets.verse-clean"',
        },
    ),
]

UNKNOWN_KEYS = [
    (make_data(pedal=[]), "pedal", "did you mean pedals?"),
    (make_data(Name="x"), "Name", "did you mean name?"),
    (of_song(TEMP=90), "songs.low-fen.TEMP", "did you mean tempo?"),
    (of_section(prest="x"), "songs.low-fen.sections.1.prest", "did you mean preset?"),
    (of_pedal(delay=5), "pedals.wah.delay", "did you mean delay_ms?"),
    (of_switcher(bank_button="up"), "switcher.bank_button", "did you mean bank_buttons?"),
    (make_data(player={"moves_alowed": 1}), "player.moves_alowed", "did you mean moves_allowed?"),
    (make_data(chain={"back": []}), "chain.back", "the keys here are front, fx"),
    (of_loop(zzz=1), "loops.2.zzz", "the keys here are number, side, pedals"),
    (
        of_loop(**{"\x1b[31m": 1}),
        "loops.2.\u241b[31m",
        "the keys here are number, side, pedals",
    ),
    (of_loop(**{"": 1}), "loops.2.", "the keys here are number, side, pedals"),
]

NOT_KNOWN = [
    (of_pedal(kind="wahh"), "pedals.wah.kind", '"wahh"', 'did you mean "wah"?'),
    (of_pedal(kind="DELAY"), "pedals.wah.kind", '"DELAY"', 'did you mean "delay"?'),
    (of_pedal(side="rear"), "pedals.wah.side", '"rear"', 'use "front" or "fx"'),
    (
        of_pedal(use="feet"),
        "pedals.wah.use",
        '"feet"',
        'use "foot", "treadle", "always", "between" or "home"',
    ),
    (of_pedal(side=2), "pedals.wah.side", "2", 'use "front" or "fx"'),
    (of_pedal(side=None), "pedals.wah.side", "nothing", 'use "front" or "fx"'),
    (of_loop(side="frnt"), "loops.2.side", '"frnt"', 'did you mean "front"?'),
    (
        of_preset(role="solo"),
        "presets.lead.role",
        '"solo"',
        'use "clean", "rhythm", "high-gain", "lead", "ambient" or "other"',
    ),
    (
        of_switcher(bank_buttons=["up"]),
        "switcher.bank_buttons",
        "a list",
        'use "up-down", "up" or "none"',
    ),
    (
        make_data(amp={"channel_switch": "hand"}),
        "amp.channel_switch",
        '"hand"',
        'use "preset" or "foot"',
    ),
]

IDS = ["", "Low Fen", "low_fen", "-low", "l\u00f6w", "low\n", "\x1b[31m", "low.fen"]


@pytest.mark.parametrize(
    ("data", "message"),
    [*WRONG_TYPES, *OUT_OF_RANGE, *HUGE_NUMBERS],
    ids=lambda value: value.split(":")[0] if isinstance(value, str) else "",
)
def test_one_problem(data: Data, message: str) -> None:
    """One fault gives one message, with its place as a dotted path of table and ids."""
    assert problems(data) == [message]


@pytest.mark.parametrize(("given", "message"), DATES)
def test_dates_are_strict(given: Any, message: str) -> None:
    """Only a date is a date: no text that looks like one, no time beside it."""
    assert problems(of_setlist(date=given)) == [f"setlists.friday.date: {message}"]


@pytest.mark.parametrize(("given", "message"), METERS)
@pytest.mark.parametrize("key", ["meter", "beat"])
def test_meters(key: str, given: str, message: str) -> None:
    """A meter or beat is two whole numbers with a stroke between them, of ordinary size."""
    assert problems(of_song(**{key: given})) == [f"songs.low-fen.{key}: {message}"]
    assert problems(of_section(**{key: given})) == [f"songs.low-fen.sections.1.{key}: {message}"]


@pytest.mark.parametrize(("data", "examples"), MISSING)
def test_missing_keys(data: Data, examples: dict[str, str]) -> None:
    """Each key that must be there is asked for, with an example of it."""
    assert problems(data) == [
        f"{where}: is missing: add for example {example}" for where, example in examples.items()
    ]


@pytest.mark.parametrize(("data", "where", "hint"), UNKNOWN_KEYS)
def test_unknown_keys(data: Data, where: str, hint: str) -> None:
    """A key that there is not is told with the nearest that there is, or with all there are."""
    assert problems(data) == [f'{where}: unknown key "{where.split(".")[-1]}"; {hint}']


@pytest.mark.parametrize(("data", "where", "given", "hint"), NOT_KNOWN)
def test_words_of_a_list(data: Data, where: str, given: str, hint: str) -> None:
    """A word that is none of those to choose from is told with the nearest, or with all."""
    assert problems(data) == [f"{where}: {given} is not one of the choices; {hint}"]


@pytest.mark.parametrize("table", ["pedals", "presets", "songs", "setlists"])
@pytest.mark.parametrize("given", IDS)
def test_ids(table: str, given: str) -> None:
    """An id is lower-case letters, digits and dashes, whatever table it is in."""
    rest = {"pedals": {"kind": "wah", "side": "front"}, "songs": {"tempo": 100}}.get(table, {})
    (message,) = problems(make_data(**{table: [{"id": given, **rest}]}))
    assert message.endswith(
        "use lower-case letters, digits and dashes, and start with a letter or digit"
    )
    assert "\x1b" not in message
    assert "\n" not in message


def test_long_id() -> None:
    """An id has at most 32 characters."""
    data = make_data(presets=[{"id": "a" * 32}, {"id": "b" * 33}])
    assert problems(data) == [f"presets.{'b' * 33}.id: is 33 characters long: use at most 32"]


@pytest.mark.parametrize(
    ("data", "messages"),
    [
        (
            make_data(presets=[{"id": "a"}, {"id": "b"}, {"id": "a"}, {"id": "a"}]),
            [
                'presets.a.id: id "a" is used twice (row 1 and row 3 of presets): '
                "give each its own id",
                'presets.a.id: id "a" is used twice (row 1 and row 4 of presets): '
                "give each its own id",
            ],
        ),
        (
            make_data(loops=[{"number": 7, "side": "front"}, {"number": 7, "side": "fx"}]),
            [
                "loops.7.number: number 7 is used twice (row 1 and row 2 of loops): "
                "give each its own number"
            ],
        ),
    ],
)
def test_names_used_twice(data: Data, messages: list[str]) -> None:
    """An id or loop number that is used twice is told with the rows that use it, from 1."""
    assert problems(data) == messages


def test_ids_are_unique_in_their_table_only() -> None:
    """A song and a preset may have the same id."""
    rig = rig_from_data(make_data(presets=[{"id": "a"}], songs=[{"id": "a", "tempo": 100}]))
    assert (rig.presets[0].id, rig.songs[0].id) == ("a", "a")


@pytest.mark.parametrize(
    ("memories", "expected"),
    [
        (5, '"none" leaves 1 memory out of reach: set memories to at most 4, or bank_buttons '
            'to "up-down" or "up"'),
        (8, '"none" leaves 4 memories out of reach: set memories to at most 4, or bank_buttons '
            'to "up-down" or "up"'),
    ],
)  # fmt: skip
def test_memories_without_a_button(memories: int, expected: str) -> None:
    """Without bank buttons there are at most as many memories as switches."""
    data = of_switcher(bank_buttons="none", memories=memories)
    assert problems(data) == [f"switcher.bank_buttons: {expected}"]
    fitting = rig_from_data(of_switcher(bank_buttons="none", memories=4))
    assert fitting.switcher is not None
    assert fitting.switcher.banks == 1


def test_upward_buttons_must_wrap() -> None:
    """Buttons that only go up must go on from the last bank to the first, in edits too."""
    expected = (
        'bank_wrap: false leaves no way back down with bank_buttons "up": set bank_wrap to true, '
        'or bank_buttons to "up-down"'
    )
    data = of_switcher(bank_buttons="up", bank_wrap=False)
    assert problems(data) == [f"switcher.{expected}"]
    rig = rig_from_data(of_switcher(bank_wrap=False))
    with pytest.raises(EditError) as caught:
        set_switcher(rig, bank_buttons="up")
    assert str(caught.value) == expected


def test_all_problems_at_once_in_file_order() -> None:
    """Everything that is wrong is listed together, in the order of the file."""
    data = {
        "setlists": [{"id": "friday", "date": "soon"}],
        "format": 1,
        "songs": [
            {"tempo": 0, "id": "low-fen", "sections": [section(bars=-1), section(pluss=[])]},
            {"id": "low-fen", "tempo": 100},
        ],
        "switcher": {"memories": 200, "bank_size": 4, "bank_buttons": "none"},
    }
    assert [text.split(": ")[0] for text in problems(data)] == [
        "setlists.friday.date",
        "songs.low-fen.tempo",
        "songs.low-fen.sections.0.bars",
        "songs.low-fen.sections.1.pluss",
        "songs.low-fen.id",
        "switcher.memories",
        "switcher.bank_buttons",
        "name",
    ]


def test_problems_know_their_path() -> None:
    """Beside its text a problem holds the path in the data, counted from 0."""
    with pytest.raises(BadRigError) as caught:
        rig_from_data(of_section(bars=0))
    (problem,) = caught.value.problems
    assert problem.path == ("songs", 0, "sections", 1, "bars")
    assert (problem.line, problem.column) == (None, None)


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (
            make_data(pedals=[{}] * 201),
            "pedals: 201 pedals are too many: a file has at most 200",
        ),
        (
            make_data(presets=[{"id": "a"}] * 1001),
            "presets: 1001 presets are too many: a file has at most 1000",
        ),
        (
            of_song(sections=[section()] * 1001),
            "songs.low-fen.sections: 1001 sections are too many: a song has at most 1000",
        ),
        (
            make_data(songs=[{"sections": [{}] * 1000}] * 31),
            "songs: 31000 sections are too many: at most 15000 in all",
        ),
        (
            of_setlist(sets=[{"songs": ["a"] * 10_001}]),
            "setlists: 10001 songs to play are too many: at most 10000 in all",
        ),
    ],
)
def test_limits(data: Data, message: str) -> None:
    """More than any evening holds is refused before it is looked at row by row."""
    assert problems(data) == [message]


def nested(inside: Any, wrap: Any, depth: int = 5000) -> Any:
    for _ in range(depth):
        inside = wrap(inside)
    return inside


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (make_data(pedals=nested([], lambda x: [x])), "pedals.0: must be a table, not a list"),
        (
            make_data(note=nested({}, lambda x: {"a": x})),
            "note: must be text in quotes, not a table",
        ),
        (
            make_data(amp=nested({}, lambda x: {"amp": x})),
            'amp.amp: unknown key "amp"; did you mean name?',
        ),
    ],
)
def test_deep_nesting(data: Data, message: str) -> None:
    """Data nested thousands deep is refused like any other that does not fit."""
    (told,) = problems(data)
    assert told.split(";")[0] == message.split(";")[0]


@pytest.mark.parametrize(
    ("data", "kind"), [(None, "nothing"), ([], "a list"), (5, "5"), ("rig", '"rig"')]
)
def test_data_that_is_no_table(data: Any, kind: str) -> None:
    """Data that is no table at all is no rig."""
    assert problems(data) == [f"a rig must be a table, not {kind}"]


def test_numbers_to_choose_from_stand_without_quotes() -> None:
    """A turn is a number of degrees: what would be right is written as the file wants it."""
    for given in (45, "90"):
        data = make_data(places=[{"device": "wah", "turn": given}])
        (told,) = problems(data)
        assert told.endswith("is not one of the choices; use 0, 90, 180 or 270")
