"""Players' own words for what the palette finds, where the program uses others."""

from __future__ import annotations

SMALL_WORDS = frozenset(
    ("a", "an", "the", "to", "of", "my", "in", "into", "for", "from", "at", "with", "is")
)
"""Words that tell nothing of what is looked for."""
_MOVE = "move swap reorder order earlier later"
_ACTIONS = {
    "app.board": "pedals chain signal loops amp switcher gear pedalboard",
    "app.presets": "sounds patches programs tones memories banks matrix",
    "app.setlist": "songs sections gig evening show sets mapping",
    "app.report": "problems trouble errors warnings findings moves tap dancing crowded rehearse "
    "what to do first mistakes dance",
    "app.plan": "optimise optimize fewer presses moves best planner reduce",
    "app.wiring": "cables patch leads length buy shopping list plugs layout jacks",
    "app.undo": "back revert take back",
    "app.redo": "again forward",
    "app.open": "load file demo new rig",
    "app.versions": "restore backup history go back earlier",
    "app.leave": "exit close end",
    "app.quit": "exit close end",
    "app.save": "write store keep backup",
    "app.help": "keys shortcuts manual",
    "board.add": "new pedal buy",
    "board.add-loop": "add send return",
    "board.edit": "change rename pedal loop amp switcher player kind side delay ms tap tempo "
    "always on treadle expression take home off board price note channels",
    "board.delete": "remove pedal loop sell",
    "board.into": "put pedal into a loop",
    "board.out": "take pedal out of loop outside",
    "board.set-up": "wizard steps new rig begin",
    "board.side": "before after amp effects loop fx front",
    "board.up": f"{_MOVE} pedal pedals chain signal",
    "board.down": f"{_MOVE} pedal pedals chain signal",
    "plan.without": "broke broken dead died dies die fails failed dying missing tonight home lost "
    "replan pedal",
    "presets.toggle": "switch a loop pedal in out preset",
    "presets.add": "new preset sound patch create",
    "presets.edit": "change rename preset sound name copies hands pickup volume midi note",
    "presets.duplicate": "duplicate preset sound double",
    "presets.delete": "remove preset sound",
    "presets.memory": "store slot program number swap preset presets bank footswitch",
    "presets.role": "clean lead rhythm kind of sound",
    "presets.channel": "amp channel preset",
    "presets.up": f"{_MOVE} preset presets",
    "presets.down": f"{_MOVE} preset presets",
    "setlist.add": "new song set setlist gig evening encore create insert",
    "setlist.edit": "change rename song title tempo bpm meter guitar tuning retune capo transpose "
    "gap length click note set slot minutes setlist gig date",
    "setlist.write": "line form structure arrangement sections",
    "setlist.duplicate": "duplicate song set setlist double",
    "setlist.copy": "duplicate song songs another set",
    "setlist.paste": "list import clipboard text evening songs",
    "setlist.remove": "delete song songs set setlist take out drop",
    "setlist.split": "split set break divide interval pause encore here",
    "setlist.join": "merge combine sets together",
    "setlist.tick": "select several multi multiple many songs mark",
    "setlist.up": f"{_MOVE} song songs set",
    "setlist.down": f"{_MOVE} song songs set",
    "setlist.next": "another setlist gig change",
    "setlist.map": "assign preset sound section change",
    "setlist.map-by-name": "assign change preset sound section",
    "setlist.map-all": "every chorus verse everywhere copy mapping",
    "setlist.map-like": "copy mapping song same as",
    "setlist.fill": "copy mapping repeat same below",
    "setlist.pedal": "step on off stomp",
    "setlist.early": "ahead tap dancing",
    "setlist.add-section": "new section part verse chorus bridge",
    "setlist.add-several": "new sections parts verse chorus",
    "setlist.write-song": "line form structure arrangement sections",
    "setlist.edit-section": "change rename section bars tempo meter hands pickup volume cue "
    "rest note",
    "setlist.duplicate-section": "duplicate section double",
    "setlist.copy-sections": "duplicate sections another song",
    "setlist.delete-section": "remove section part",
    "setlist.section-up": f"{_MOVE} section sections",
    "setlist.section-down": f"{_MOVE} section sections",
    "setlist.tick-section": "select several multi multiple many sections mark",
    "setlist.more-bars": "bars change length longer",
    "setlist.fewer-bars": "bars change length shorter",
    "report.waive": "accept ignore silence dismiss",
    "report.fix": "mend repair solve",
    "list.search": "find filter song songs preset pedal",
    "wiring.place": "layout arrange pedals board",
    "wiring.add": "cable patch lead new reel buy",
    "wiring.measure": "cable patch lead length",
    "wiring.test": "cable patch lead broken continuity",
}
_COMMANDS = {
    "Save a picture of the screen": "screenshot svg image",
    "Sheet: set sheet": "print export pdf paper setlist song songs page pages",
    "Sheet: floor sheet": "print export pdf paper song songs page pages stage",
    "Sheet: deputy": "print export pdf paper dep substitute",
    "Sheet: packing": "print export pdf paper spare spares battery batteries bring",
    "Sheet: ": "print export pdf paper",
    "Write MIDI": "export program change cues click sequencer",
    "Export the songs": "csv spreadsheet write",
    "Import songs": "chordpro chords lyrics csv list load read add",
    "Plan: what a bigger switcher would buy": "curve more loops memories upgrade compare worth",
    "Plan: ": "optimise optimize fewer presses tap dancing",
    "Waive all": "accept ignore silence dismiss rule",
    "Theme: ": "settings light dark mode contrast color",
    "Settings": "preferences options keys config",
}


def names_of_action(binding_id: str | None) -> str:
    """Other words for what a key does, by the key's id."""
    return _ACTIONS.get(binding_id or "", "")


def names_of_command(words: str) -> str:
    """Other words for a command without a key, by how it begins."""
    return next((also for begins, also in _COMMANDS.items() if words.startswith(begins)), "")
