"""What to give up: a few sections played with another sound, where sounds outnumber memories.

`ways` says how each section could be played and what that costs, `one_song` finds the cheapest
ways through a song, `frontier` chooses the sounds to keep, `point` makes the rig of a choice.
"""
