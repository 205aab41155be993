"""Tunings by the names that players have for them (common practice)."""

from __future__ import annotations

import re

STANDARD = "standard"
_STANDARD = re.compile(r"(?:e[ -]?)?standard|e ?a ?d ?g(?: ?b ?e)?", re.IGNORECASE)
_NOTE = r"[A-G](?:[#♯b♭]|[ -](?:flat|sharp))?"
_KNOWN = re.compile(rf"(?i:drop(?:ped)?|open)[ -]?{_NOTE}m?|(?i:double drop) D|(?i:dadgad)")
_KNOWN_APART = re.compile(
    rf"(?i:standard|(?:half|whole|full|one|two|1/2)[ -]?(?:an? )?(?:half )?steps?[ -]down)"
    rf"|{_NOTE}[ -](?i:standard)"
)
_NOTES = re.compile(rf"{_NOTE}(?: {_NOTE}){{3,7}}")


def is_standard(tuning: str) -> bool:
    """Whether a tuning is the usual one of a guitar or a bass."""
    return bool(_STANDARD.fullmatch(tuning.strip().casefold().removesuffix(" tuning")))


def is_tuning_name(text: str, apart: bool) -> bool:
    """Whether a text is the name of a tuning.

    Args:
        text: What may be one.
        apart: Whether it is set apart from what is before it. "half step down" and "standard" can
            also be the end of a title, and "drop D" can not.
    """
    known = _KNOWN.fullmatch(text) or (apart and _KNOWN_APART.fullmatch(text))
    return bool(known or (apart and _NOTES.fullmatch(text)))
