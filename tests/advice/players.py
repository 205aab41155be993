"""Three players' rigs, made up: a function band, a theatre pit, a trio without a singer.

What stands in each is common practice of such a job; names and figures are invented.
"""

from __future__ import annotations

from typing import Any

from rigs_made import Data, loop, make_data, pedal, preset, section, setlist, switcher


def _song(id: str, tempo: float, parts: str, **more: Any) -> Data:
    """A song written as "I4:chop V16:chop": part, bars, preset; "+" steps a pedal on."""
    rows = []
    for part in parts.split():
        name, _, played = part.partition(":")
        played, _, plus = played.partition("+")
        extra = {"plus": [plus]} if plus else {}
        rows.append(section(played, name=name.rstrip("0123456789"), **extra))
        rows[-1]["bars"] = int(name.lstrip("ABCDISVX"))
    return {"id": id, "title": id.replace("-", " ").title(), "tempo": tempo, "sections": rows,
            **more}  # fmt: skip


def _names(songs: list[Data]) -> list[str]:
    return [row["id"] for row in songs]


def function_band() -> Data:
    """Six loops, two banks: the solo sounds are in the second, and so is every rush."""
    songs = [
        _song("tin-lanterns", 118, "I4:chop V16:chop C8:crunch S8:solo C16:crunch"),
        _song("late-ferry", 127, "I4:chop V16:chop C8:crunch S16:solo+wah C8:crunch"),
        _song("half-past-moon", 72, "I4:shimmer V16:shimmer C8:ballad S8:ballad C8:shimmer",
              capo=2, gap_seconds=4),
        _song("silver-buttons", 104, "I8:rock V16:crunch C16:rock S8:solo+wah", capo=0),
        _song("neon-larder", 128, "V16:chop C16:crunch V16:chop C16:crunch", gap_seconds=0),
        _song("tin-river", 128, "I4:rock V16:rock C16:rock", tuning="D A D G B E"),
        _song("night-bus-waltz", 96, "I8:chop V16:chop C16:crunch", meter="3/4"),
        _song("paper-engine", 140, "V16:rock C16:rock B4:rock S16:solo C8:rock"),
    ]  # fmt: skip
    return make_data(
        amp={"channels": ["clean"], "fx_loop": True},
        switcher=switcher(8, 4),
        pedals=[
            pedal("tuner", "tuner", name="Tuner"),
            pedal("wah", "wah", name="Wah"),
            pedal("volume", "volume", name="Volume pedal", use="always"),
            pedal("squash", "compressor", name="Compressor"),
            pedal("low", "overdrive", name="Low drive"),
            pedal("mid", "distortion", name="Mid drive"),
            pedal("boost", "boost", name="Boost"),
            pedal("chorus", "modulation", "fx", name="Chorus"),
            pedal("delay", "delay", "fx", name="Delay", delay_ms=500, feedback=0.3,
                  max_delay_ms=800),
        ],
        loops=[
            loop(1, "squash"), loop(2, "low"), loop(3, "mid"), loop(4, "boost"),
            loop(5, "chorus", side="fx"), loop(6, "delay", side="fx"),
        ],
        chain={"front": ["tuner", "wah", "volume", 1, 2, 3, 4], "fx": [5, 6]},
        presets=[
            preset("chop", 1, memory=1, name="Clean Chop", role="clean"),
            preset("shimmer", 1, 5, 6, memory=2, name="Shimmer", role="clean"),
            preset("crunch", 2, memory=3, name="Crunch", role="rhythm"),
            preset("rock", 3, memory=4, name="Rock", role="high-gain"),
            preset("solo", 3, 4, 6, memory=5, name="Solo", role="lead"),
            preset("ballad", 2, 6, memory=6, name="Ballad Lead", role="lead"),
        ],
        songs=songs,
        setlists=[setlist("wedding", *_names(songs), name="Wedding")],
    )  # fmt: skip


def theatre_pit() -> Data:
    """Five loops into a box with a speaker's voicing; an electric and a nylon guitar."""
    electric, nylon = {"guitar": "electric"}, {"guitar": "nylon"}
    songs = [
        _song("counting-waltz", 168, "I8:sway V32:sway D32:sway", meter="3/4", **electric),
        _song("paper-skiffs", 84, "V32:warm", gap_seconds=8, **electric),
        _song("skiffs-reprise", 84, "V24:nylon", gap_seconds=0, **nylon),
        _song("stand-in-rag", 112, "A16:dry B16:warm", **electric),
        _song("mist-on-the-slip", 70, "A8:quay V20:quay", **electric),
        _song("guild-hall", 132, "V16:warm C16:union V16:warm C16:union", **electric),
        _song("lamp-duet", 76, "V24:nylon C16:nylon", **nylon),
        _song("last-storm", 152, "A8:storm B8:storm-lead A8:storm X1:dry", **electric),
    ]
    return make_data(
        amp={"fx_loop": False},
        switcher=switcher(8, 4),
        pedals=[
            pedal("tuner", "tuner", name="Tuner"),
            pedal("squash", "compressor", name="Compressor", buffered=True),
            pedal("low", "overdrive", name="Overdrive"),
            pedal("fuzz", "fuzz", name="Fuzz", low_impedance=True),
            pedal("rotary", "modulation", name="Rotary"),
            pedal("space", "delay", name="Space", delay_ms=400, feedback=0.3, decay_seconds=2),
            pedal("volume", "volume", name="Volume pedal", use="always"),
        ],
        loops=[loop(1, "squash"), loop(2, "low"), loop(3, "fuzz"), loop(4, "rotary"),
               loop(5, "space")],
        chain={"front": ["tuner", 1, 2, 3, 4, 5, "volume"]},
        presets=[
            preset("dry", memory=1, name="Dry", role="clean"),
            preset("warm", 1, memory=2, name="Warm", role="clean"),
            preset("sway", 1, 4, memory=3, name="Waltz Sway", role="clean"),
            preset("quay", 1, 5, memory=4, name="Quay", role="clean"),
            preset("union", 2, memory=5, name="Union", role="rhythm"),
            preset("storm", 3, memory=6, name="Storm", role="high-gain"),
            preset("storm-lead", 2, 3, 5, memory=7, name="Storm Lead", role="lead"),
            preset("nylon", memory=8, name="Nylon", role="clean"),
        ],
        songs=songs,
        setlists=[setlist("matinee", *_names(songs), name="Matinee")],
    )  # fmt: skip


def quiet_loud_trio() -> Data:
    """Eight loops and six memories; the amp's channel has a switch of its own."""
    low, usual = {"tuning": "C G C G C E"}, {"tuning": "E A D G B E"}
    songs = [
        _song("salt-line", 66, "A16:hush B16:hush C16:wall D8:hush", **low),
        _song("maps-of-rain", 92, "A24:drift B16:wall C16:peak D8:drift", **low),
        _song("nine-thaws", 138, "A16:low-wall B16:peak A16:low-wall", **usual),
        _song("radio-to-no-one", 108, "A28:glass B14:drift C28:wall", meter="7/8", beat="1/4",
              **low),
        _song("slow-barges", 76, "A16:hush B16:drift C8:peak", **usual),
        _song("static-house", 120, "A16:static X1:hush", **low),
    ]  # fmt: skip
    return make_data(
        amp={"channels": ["clean", "drive"], "drive_channels": ["drive"], "channel_switch": "foot",
             "fx_loop": True},
        switcher=switcher(6, 3),
        pedals=[
            pedal("tuner", "tuner", name="Tuner"),
            pedal("fuzz", "fuzz", name="Fuzz"),
            pedal("octave", "pitch", name="Octave down"),
            pedal("low", "overdrive", name="Low drive"),
            pedal("high", "distortion", name="Distortion"),
            pedal("boost", "boost", name="Treble boost"),
            pedal("short", "delay", "fx", name="Short delay", delay_ms=500, feedback=0.45,
                  max_delay_ms=600),
            pedal("long", "delay", "fx", name="Long delay", delay_ms=900, feedback=0.6,
                  max_delay_ms=2000, tap=True),
            pedal("hall", "reverb", "fx", name="Hall", decay_seconds=9),
        ],
        loops=[
            loop(1, "fuzz"), loop(2, "octave"), loop(3, "low"), loop(4, "high"), loop(5, "boost"),
            loop(6, "short", side="fx"), loop(7, "long", side="fx"), loop(8, "hall", side="fx"),
        ],
        chain={"front": ["tuner", 1, 2, 3, 4, 5], "fx": [6, 7, 8]},
        presets=[
            preset("hush", 7, memory=1, name="Hush", role="ambient", channel="clean"),
            preset("glass", 6, 8, memory=2, name="Glass", role="ambient", channel="clean"),
            preset("drift", 3, 7, 8, memory=3, name="Drift", role="ambient", channel="clean"),
            preset("wall", 1, 4, 8, memory=4, name="Wall", role="high-gain", channel="drive"),
            preset("low-wall", 2, 4, memory=5, name="Low Wall", role="high-gain",
                   channel="drive"),
            preset("peak", 4, 5, 7, memory=6, name="Peak", role="lead", channel="drive"),
            preset("static", 1, 6, name="Static", role="rhythm", channel="clean"),
        ],
        songs=songs,
        setlists=[setlist("support", *_names(songs), name="Support slot")],
    )  # fmt: skip


PLAYERS = {
    "function band": function_band,
    "theatre pit": theatre_pit,
    "quiet-loud trio": quiet_loud_trio,
}
