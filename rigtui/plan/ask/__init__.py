"""A planner's input and output: options, songs, needs, the plan, progress."""
