"""Loops: which pedals are in them, searched and priced."""
