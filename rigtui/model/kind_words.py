"""What kind of pedal a name says, and what kind of sound: a guess, always shown to be put right."""

from __future__ import annotations

import re
from typing import TypeVar, get_args

from rigtui.model.base import Kind, Role

MeantT = TypeVar("MeantT")

# Source: what players call such pedals and sounds, common practice. The first that fits is taken.
_KIND_WORDS: tuple[tuple[Kind, str], ...] = (
    ("tuner", "tuner tune tuning"),
    ("volume", "volume swell"),
    ("wah", "wah wahwah filter"),
    ("compressor", "comp compressor squash squeeze sustainer"),
    ("pitch", "pitch octave octaver octavider harmony harmoniser harmonizer shifter detune"),
    ("fuzz", "fuzz"),
    ("boost", "boost booster lift"),
    ("distortion", "distortion dist metal heavy gain"),
    ("overdrive", "overdrive drive od crunch dirt"),
    ("gate", "gate noise"),
    ("eq", "eq equaliser equalizer mids"),
    ("tremolo", "tremolo trem pulse"),
    ("reverb", "reverb verb room hall plate spring shimmer"),
    ("delay", "delay echo tape slapback repeat"),
    ("modulation", "chorus phaser phase flanger flange rotary vibrato vibe modulation mod"),
    ("looper", "looper loop"),
    ("buffer", "buffer line driver"),
    ("preamp", "preamp simulator cab"),
)
_ROLE_WORDS: tuple[tuple[Role, str], ...] = (
    ("lead", "lead solo"),
    ("ambient", "ambient pad swell wash"),
    ("high-gain", "heavy metal high thrash chug"),
    ("rhythm", "rhythm crunch riff dirt rock drive"),
    ("clean", "clean chop jangle sparkle acoustic"),
)
FX_KINDS: tuple[Kind, ...] = ("delay", "reverb")
"""What stands in the effects loop of an amp that has one."""
TAIL_KINDS: tuple[Kind, ...] = ("delay", "reverb")
"""What rings on after the note."""


def kind_of_name(name: str) -> Kind:
    """Return the kind that a pedal's name says; "other" where it says none."""
    return _first_said(name, _KIND_WORDS, "other")


def kind_meant(word: str) -> Kind | None:
    """The kind that a common name means, such as "phaser"; None where it is no name of a kind.

    The file's own words go first, then the beginning of one, then what players say.
    """
    typed = " ".join(word.casefold().split())
    if not typed:
        return None
    kinds: tuple[Kind, ...] = get_args(Kind)
    for kind in kinds:
        if kind == typed:
            return kind
    said = _first_said(typed, _KIND_WORDS, "other")
    if said != "other":
        return said
    for kind in kinds:
        if kind.startswith(typed):
            return kind
    last = typed.split()[-1]
    for kind, words in _KIND_WORDS:
        if any(known.startswith(last) for known in words.split()):
            return kind
    return None


def common_names(kind: Kind) -> str:
    """What players call pedals of a kind, with blanks between."""
    return f"{kind} {' '.join(words for known, words in _KIND_WORDS if known == kind)}"


def role_of_name(name: str) -> Role:
    """Return the role that a sound's name says; "other" where it says none."""
    return _first_said(name, _ROLE_WORDS, "other")


def _first_said(name: str, table: tuple[tuple[MeantT, str], ...], otherwise: MeantT) -> MeantT:
    said = set(re.findall(r"[^\W\d_]+", name.casefold()))
    return next((meant for meant, words in table if said & set(words.split())), otherwise)
