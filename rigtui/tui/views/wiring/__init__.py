"""Wiring: the board from above, its patch leads, and the work at the bench."""
