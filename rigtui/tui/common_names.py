"""What players call the things that the palette finds, where the program calls them otherwise."""

from __future__ import annotations

_ACTIONS = {
    "app.board": "pedals chain signal loops amp switcher gear pedalboard",
    "app.presets": "sounds patches programs tones memories banks matrix",
    "app.setlist": "songs sections gig evening show sets mapping",
    "app.report": "problems trouble errors warnings findings moves tap dancing crowded rehearse "
    "what to do first mistakes dance",
    "app.plan": "optimise optimize fewer presses moves best planner reduce",
    "app.undo": "back revert take back",
    "app.redo": "again forward",
    "app.open": "load file demo new rig",
    "app.versions": "restore backup history go back earlier",
    "app.leave": "exit close end",
    "app.quit": "exit close end",
    "app.save": "write store keep",
    "app.help": "keys shortcuts manual",
    "presets.memory": "store slot program number",
    "setlist.paste": "list import clipboard text evening",
    "setlist.write": "line form structure arrangement",
    "setlist.write-song": "line form structure arrangement",
    "setlist.map-all": "every chorus verse everywhere",
    "setlist.pedal": "step on off stomp",
    "setlist.early": "ahead tap dancing",
    "report.waive": "accept ignore silence dismiss",
    "report.fix": "mend repair solve",
    "list.search": "find filter",
}
_COMMANDS = {
    "Save a picture of the screen": "screenshot svg image",
    "Sheet: ": "print pdf paper",
    "Write MIDI": "export program change cues click sequencer",
    "Export the songs": "csv spreadsheet write",
    "Import songs": "chordpro csv list load read",
    "Plan: what a bigger switcher would buy": "curve more loops memories upgrade compare worth",
    "Plan: ": "optimise optimize fewer presses tap dancing",
    "Waive all": "accept ignore silence dismiss rule",
    "Theme: ": "settings light dark contrast color",
    "Settings": "preferences options keys config",
}


def names_of_action(binding_id: str | None) -> str:
    """Other words for what a key does, by the key's id."""
    return _ACTIONS.get(binding_id or "", "")


def names_of_command(words: str) -> str:
    """Other words for a command without a key, by how it begins."""
    return next((also for begins, also in _COMMANDS.items() if words.startswith(begins)), "")
