"""Songs out of other files: ChordPro, Standard MIDI Files, CSV, other rigs.

Each source is read by a pure function into a draft (`draft`), which also says what the source
leaves open; answers fill the draft (`answers`), and only a draft with nothing open becomes songs of
a rig (`into`). Only `sources` touches files.
"""
