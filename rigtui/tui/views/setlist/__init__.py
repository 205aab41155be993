"""The setlist: songs, sections, and what is played where."""
