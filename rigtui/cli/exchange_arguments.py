"""What can be typed after the commands that exchange songs and cues with other gear."""

from __future__ import annotations

from rigtui.cli.parser import Parser

_MIDI = """\
Write songs or an evening as Standard MIDI Files: tempo map, time signatures,
a marker for each section, and what each preset sends where it must come in.
Or send it yourself: list the ports, send one preset, step through a song.

Programs are 0 to 127 on the wire and 1 to 128 to most people. The rig file
holds the number that the device shows; what is sent is said as such.
"""
_MIDI_END = """\
examples:
  rigtui midi rig.toml --song low-fen            writes low-fen.mid
  rigtui midi rig.toml --setlist friday -o friday.mid --lead 20
  rigtui midi rig.toml -o cues                   every song, in the folder cues
  rigtui midi ports                              what can be sent to
  rigtui midi send rig.toml lead --port "USB"    one preset, now
  rigtui midi send rig.toml --song low-fen --port "USB"
                                 Enter sends the next cue, b goes back, q ends

A file that is there already is replaced only if it is a MIDI file. Ports and
sending need the extra "live": pip install "rigtui[live]"

exit status:
  0  written or sent
  2  a bad file, no such song, preset or port, or something mistyped
"""
_IMPORT = """\
Take songs into a rig from a plain list (one title a line), a ChordPro text, a
Standard MIDI File, a CSV table or another rig. What the source does not say
(tempo, bars, presets, the note that a tempo counts) is asked for in one go on
a terminal; elsewhere it is given with the options below, and all that is
missing is listed at once. Nothing is guessed.

An answer is NAME=VALUE, several with commas. The name is a section's; "Chorus"
also means Chorus 1, Chorus 2 and so on, "*" means all that are left, and
"low-fen/Chorus" means that song alone.
"""
_IMPORT_END = """\
examples:
  rigtui import rig.toml --from evening.txt --in-place --setlist friday
  xclip -o | rigtui import rig.toml --from - --as list --in-place
  rigtui import rig.toml --from low-fen.cho --in-place \\
    --bars "Verse=16,Chorus=8" --map "Verse=clean,Chorus=rock"
  rigtui import rig.toml --from song.mid --write new.toml --map "*=-"
  rigtui import rig.toml --from songs.csv --check
  rigtui import rig.toml --from other.toml --in-place --map "lead=solo"

exit status:
  0  written, or with --check: nothing is missing
  2  a bad file, something missing or mistyped; nothing is written
"""
_EXPORT = """\
Write songs as a CSV table, one row a section, for a spreadsheet. `rigtui
import` reads it back as it was.
"""
_EXPORT_END = """\
examples:
  rigtui export rig.toml -o songs.csv
  rigtui export rig.toml --song low-fen     to standard output
  rigtui import rig.toml --from songs.csv --in-place --same replace

A file that is there already is replaced only if it is such a table.

exit status:
  0  written
  2  a bad file, no such song or setlist, or something mistyped
"""
_CHAIN = """\
Show the way of the signal, from the guitar to the amp and through its effects
loop: what stands where, which loop holds what, and each lead with its number
on the wiring sheet. With a preset or a section also what is on, and the way of
its sound jack by jack.
"""
_CHAIN_END = """\
examples:
  rigtui chain rig.toml                          the whole chain
  rigtui chain rig.toml --preset lead            what is on with a preset
  rigtui chain rig.toml --section rumour.8       in section 8 of a song
  rigtui chain rig.toml --format svg -o rig.svg  a picture

exit status:
  0  all well
  2  a bad file, no such preset or section, or something mistyped
"""
_SCHEMA = """\
Write the JSON Schema (2020-12) of the rig file. A text editor that has it
completes keys, shows what they mean, and underlines what the file may not
hold. docs/editor.md says how to tell your editor.
"""
_SCHEMA_END = """\
examples:
  rigtui schema                        to standard output
  rigtui schema -o rig.schema.json     then begin a rig file with the line
                                         #:schema ./rig.schema.json

exit status:
  0  written
  2  it cannot be written there
"""


def midi() -> Parser:
    """The parser of `rigtui midi`."""
    parser = Parser(
        "rigtui midi",
        "rigtui midi FILE [--setlist ID | --song ID] [-o OUT] [--lead MS]\n"
        "       rigtui midi ports\n"
        "       rigtui midi send FILE (PRESET | --song ID) --port NAME",
        _MIDI,
        _MIDI_END,
    )
    parser.add_argument(
        "words", metavar="FILE", nargs="+", help="rig file; or the word ports, or send and a file"
    )
    scope = parser.add_mutually_exclusive_group()
    scope.add_argument("--setlist", metavar="ID", help="one file of this evening")
    scope.add_argument("--song", metavar="ID", help="only this song")
    parser.add_argument(
        "-o", "--output", metavar="OUT", help="file to write; for all songs, a folder; - for a pipe"
    )
    parser.add_argument(
        "--lead",
        metavar="MS",
        type=float,
        help="milliseconds by which messages go out ahead of their section (0)",
    )
    parser.add_argument("--port", metavar="NAME", help="output port, or a part of its name")
    return parser


def importing() -> Parser:
    """The parser of `rigtui import`."""
    parser = Parser(
        "rigtui import",
        "rigtui import FILE --from SOURCE (--in-place | --write NEW | --check)\n"
        "                     [options]",
        _IMPORT,
        _IMPORT_END,
    )
    parser.add_argument("file", metavar="FILE", help="rig file that the songs go into")
    parser.add_argument(
        "--from",
        dest="source",
        metavar="SOURCE",
        required=True,
        help="file to take songs from; - for a pipe",
    )
    parser.add_argument(
        "--as",
        dest="kind",
        choices=("chordpro", "midi", "csv", "rig", "list"),
        help="what SOURCE is, where its name does not say it",
    )
    where = parser.add_mutually_exclusive_group(required=True)
    where.add_argument("--in-place", action="store_true", help="write into FILE itself")
    where.add_argument("--write", metavar="NEW", help="write FILE and the songs to a new file")
    where.add_argument("--check", action="store_true", help="write nothing, only say what is there")
    answers = (
        ("--bars", "ANSWERS", 'bars of sections: "Verse=16,Chorus=8"'),
        ("--map", "ANSWERS", 'presets of sections: "Chorus=rock"; "-" leaves unmapped'),
        ("--tempo", "BPM", 'tempo where none is given: 120, or "low-fen=120"'),
        ("--meter", "METER", 'meter where none is given: 4/4, or "low-fen=6/8"'),
        ("--beat", "NOTE", 'note that a tempo counts: 3/8, or "low-fen=1/8"'),
    )
    for option, metavar, words in answers:
        parser.add_argument(option, metavar=metavar, action="append", default=[], help=words)
    parser.add_argument(
        "--songs", metavar="IDS", help="from another rig or a table: only these, with commas"
    )
    parser.add_argument(
        "--same",
        choices=("replace", "add", "skip"),
        help="a song with the same id or title is there already: what to do",
    )
    parser.add_argument(
        "--setlist", metavar="ID", help="play them in this setlist, behind what it has"
    )
    return parser


def export() -> Parser:
    """The parser of `rigtui export`."""
    parser = Parser(
        "rigtui export",
        "rigtui export FILE [-o OUT] [--setlist ID | --song ID]",
        _EXPORT,
        _EXPORT_END,
    )
    parser.add_argument("file", metavar="FILE", help="rig file (TOML) to read")
    parser.add_argument(
        "-o",
        "--output",
        metavar="OUT",
        help="file to write to; without it, standard output",
    )
    scope = parser.add_mutually_exclusive_group()
    scope.add_argument("--setlist", metavar="ID", help="only the songs of this setlist")
    scope.add_argument("--song", metavar="ID", help="only this song")
    return parser


def chain() -> Parser:
    """The parser of `rigtui chain`."""
    parser = Parser(
        "rigtui chain",
        "rigtui chain FILE [--preset ID | --section SONG.NUMBER]\n"
        "                    [--format text|svg|json] [-o OUT]",
        _CHAIN,
        _CHAIN_END,
    )
    parser.add_argument("file", metavar="FILE", help="rig file (TOML) to read")
    sound = parser.add_mutually_exclusive_group()
    sound.add_argument("--preset", metavar="ID", help="what is on with this preset alone")
    sound.add_argument(
        "--section", metavar="SONG.NUMBER", help="what is on in a section, counted from 1"
    )
    parser.add_argument(
        "--format",
        choices=("text", "svg", "json"),
        default="text",
        help="text (the default), svg (a picture) or json",
    )
    parser.add_argument("-o", "--output", metavar="OUT", help="file to write; else printed")
    return parser


def schema() -> Parser:
    """The parser of `rigtui schema`."""
    parser = Parser("rigtui schema", "rigtui schema [-o OUT]", _SCHEMA, _SCHEMA_END)
    parser.add_argument("-o", "--output", metavar="OUT", help="file to write; else to a pipe")
    return parser
