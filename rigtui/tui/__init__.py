"""The screens: they show a rig and ask for edits; they hold no rules and touch no files."""
