"""The command `plan`."""
