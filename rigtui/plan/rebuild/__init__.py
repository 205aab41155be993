"""From a design to a rig: board, presets and sections written, the hands as they were."""
