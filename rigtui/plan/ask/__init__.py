"""What a planner is asked and what it gives back: options, songs, needs, the plan, progress."""
