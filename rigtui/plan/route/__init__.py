"""Route: the fewest presses with the layout as it is."""
