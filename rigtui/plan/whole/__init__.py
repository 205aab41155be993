"""The planners that search: loops, memories (switches), and everything together."""
