"""At the bench: where devices stand, patch leads and their plugs, cutting, work, tests.

Pure functions of a rig. The signal graph says which leads there are; nothing here says so again.
"""
