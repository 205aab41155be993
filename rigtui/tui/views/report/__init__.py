"""The report: findings, changes and songs."""
