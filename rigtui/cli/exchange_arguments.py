"""The arguments and help of the commands that exchange songs and cues with other gear."""

from __future__ import annotations

from rigtui.cli.parser import Parser

_MIDI = """\
Write songs or an evening as Standard MIDI Files: tempo map, time signatures,
a marker for each section, and each preset's messages where they must come in.
Or send them yourself: list the ports, send one preset, step through a song.

Programs are 0 to 127 on the wire and 1 to 128 to most people. The rig file
has the number that the device shows; numbers on the wire are marked as such.
"""
_MIDI_END = """\
examples:
  rigtui midi rig.toml --song low-fen            writes low-fen.mid
  rigtui midi rig.toml --setlist friday -o friday.mid --lead 20
  rigtui midi rig.toml -o cues                   every song, in the folder cues
  rigtui midi ports                              the ports you can send to
  rigtui midi send rig.toml lead --port "USB"    one preset, now
  rigtui midi send rig.toml --song low-fen --port "USB"
                                 Enter sends the next cue, b goes back, q ends

An existing file is replaced only if it is a MIDI file. Ports and
sending need the extra "live": pip install "rigtui[live]"

exit status:
  0  written or sent
  2  a bad file, no such song, preset or port, or something mistyped
"""
_IMPORT = """\
Take songs into a rig from a plain list (one title a line), a ChordPro text, a
Standard MIDI File, a CSV table or another rig. On a terminal, rigtui asks for
everything the source doesn't say (tempo, bars, presets, the note that a tempo
counts) in one go. Elsewhere you give it with the options below, and rigtui
lists all that is missing at once. It guesses nothing.

An answer is NAME=VALUE, several with commas. NAME is a section: "Chorus"
also means Chorus 1, Chorus 2 and so on, "*" means all the rest, and
"low-fen/Chorus" means only that song.
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
  0  written, or with --check: nothing missing
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

An existing file is replaced only if it is such a table.

exit status:
  0  written
  2  a bad file, no such song or setlist, or something mistyped
"""
_CHAIN = """\
Show the signal path, from the guitar to the amp and through its effects
loop: what stands where, what is in each loop, and each lead with its number on
the wiring sheet. With a preset or a section, also what is on, and the path of
its sound, jack by jack.
"""
_CHAIN_END = """\
examples:
  rigtui chain rig.toml                          the whole chain
  rigtui chain rig.toml --preset lead            what is on with a preset
  rigtui chain rig.toml --section rumour.8       in section 8 of a song
  rigtui chain rig.toml --format svg -o rig.svg  a picture

exit status:
  0  fine
  2  a bad file, no such preset or section, or something mistyped
"""
_SCHEMA = """\
Write the JSON Schema (2020-12) of the rig file. With it, a text editor
completes keys, shows what they mean, and underlines mistakes.
docs/editor.md says how to set up your editor.
"""
_SCHEMA_END = """\
examples:
  rigtui schema                        to standard output
  rigtui schema -o rig.schema.json     then start the rig file with the line
                                         #:schema ./rig.schema.json

exit status:
  0  written
  2  it can't be written there
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
        "words",
        metavar="FILE",
        nargs="+",
        help="rig file; or the word ports; or send and a rig file",
    )
    scope = parser.add_mutually_exclusive_group()
    scope.add_argument("--setlist", metavar="ID", help="one file of this evening")
    scope.add_argument("--song", metavar="ID", help="only this song")
    parser.add_argument(
        "-o", "--output", metavar="OUT", help="file to write; a folder for all songs; - for a pipe"
    )
    parser.add_argument(
        "--lead",
        metavar="MS",
        type=float,
        help="send messages this many milliseconds ahead of their section (0)",
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
        help="what SOURCE is, if its name doesn't say",
    )
    where = parser.add_mutually_exclusive_group(required=True)
    where.add_argument("--in-place", action="store_true", help="write into FILE itself")
    where.add_argument("--write", metavar="NEW", help="write FILE and the songs to a new file")
    where.add_argument(
        "--check", action="store_true", help="write nothing, only list what is there"
    )
    answers = (
        ("--bars", "ANSWERS", 'bars of sections: "Verse=16,Chorus=8"'),
        ("--map", "ANSWERS", 'presets of sections: "Chorus=rock"; "-" leaves unmapped'),
        ("--tempo", "BPM", 'tempo for songs without one: 120, or "low-fen=120"'),
        ("--meter", "METER", 'meter for songs without one: 4/4, or "low-fen=6/8"'),
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
        help="what to do with a song whose id or title is already there",
    )
    parser.add_argument(
        "--setlist", metavar="ID", help="add them to this setlist, after its own songs"
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
        help="file to write to; standard output without it",
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
    parser.add_argument("-o", "--output", metavar="OUT", help="file to write; printed without it")
    return parser


def schema() -> Parser:
    """The parser of `rigtui schema`."""
    parser = Parser("rigtui schema", "rigtui schema [-o OUT]", _SCHEMA, _SCHEMA_END)
    parser.add_argument(
        "-o", "--output", metavar="OUT", help="file to write; standard output without it"
    )
    return parser
