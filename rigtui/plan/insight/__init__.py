"""Answers that change nothing: what another switcher would buy, and why a plan is as it is."""
