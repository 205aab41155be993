"""Memories: which preset in which memory, so that changes stay within a bank."""
