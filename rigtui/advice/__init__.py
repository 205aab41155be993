"""Advice: what to do first, and what to give up, each tried and counted before it is offered."""
