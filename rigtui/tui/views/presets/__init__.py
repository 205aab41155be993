"""Presets against loops."""
