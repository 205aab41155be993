"""`rigtui midi ports` and `rigtui midi send`: send messages to a real port.

Ports come from mido and its backend, which is the optional extra "live"; MIDO_BACKEND chooses
another one, as mido documents.
"""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Callable, Iterable, Sequence
from contextlib import AbstractContextManager
from typing import TYPE_CHECKING, Any, Protocol

from rigtui.cli.chosen import NotThereError, named_row, opened
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain, put, terminal_of
from rigtui.model.errors import RigError
from rigtui.model.text import count, did_you_mean
from rigtui.model.wire import Message, preset_messages

if TYPE_CHECKING:
    from rigtui.model.rig import Preset, Rig, Song


class PortError(RigError):
    """A port that cannot be used, with what would help."""


class Wire(Protocol):
    """Something that takes messages: one of mido's output ports."""

    def send(self, message: Any) -> None:
        """Send one message."""
        ...


def run_live(what: str, words: Sequence[str], arguments: Namespace) -> int:
    """List the ports or send, and return the exit status."""
    try:
        return _ports(words) if what == "ports" else _send(words, arguments)
    except (PortError, NotThereError) as error:
        complain(f"rigtui midi {what}: {error}")
        return BAD_USAGE


def _backend() -> Any:
    """Return mido's backend, loaded.

    Raises:
        PortError: the extra is not installed, or the system has no MIDI.
    """
    import mido

    try:
        mido.backend.load()
    except ImportError:
        raise PortError(
            'sending needs the extra "live": pip install "rigtui[live]"; writing MIDI '
            "files doesn't"
        ) from None
    return mido.backend


def _port_names() -> list[str]:
    try:
        return [str(name) for name in _backend().get_output_names()]
    except PortError:
        raise
    except Exception as error:  # each backend has errors of its own
        raise PortError(f"no MIDI on this system: {error}") from None


def _ports(words: Sequence[str]) -> int:
    if words:
        raise PortError(f"there are words too many: leave out {' '.join(words)}")
    names = _port_names()
    show = terminal_of(sys.stdout).show
    put("".join(f"{show(name)}\n" for name in names) or "No MIDI output is connected.\n")
    return 0


def chosen_port(wanted: str | None, names: Sequence[str]) -> str:
    """Return the port that is meant: by its whole name, or the one that has these letters in it.

    Raises:
        PortError: none or several fit; the message lists those there are.
    """
    there = f"there are {', '.join(names)}" if names else "no MIDI output is connected"
    if wanted is None:
        raise PortError(f"name a port with --port; {there}")
    if wanted in names:
        return wanted
    fits = [name for name in names if wanted.casefold() in name.casefold()]
    if len(fits) == 1:
        return fits[0]
    if fits:
        raise PortError(f'"{wanted}" fits {len(fits)} ports: {", ".join(fits)}; name one of them')
    raise PortError(f'there is no port "{wanted}"; {did_you_mean(wanted, names, there)}')


def _opened_port(name: str) -> AbstractContextManager[Wire]:
    try:
        port: AbstractContextManager[Wire] = _backend().open_output(name)
        return port
    except Exception as error:
        raise PortError(f"{name} can't be opened: {error}") from None


def _send(words: Sequence[str], arguments: Namespace) -> int:
    if arguments.setlist is not None or arguments.output is not None or arguments.lead is not None:
        raise PortError("sending takes a preset or --song, and --port; no other option")
    if len(words) != (1 if arguments.song is not None else 2):
        raise PortError("give FILE PRESET, or FILE --song ID")
    read = opened(words[0])
    if read is None:
        return BAD_USAGE
    rig = read[1]
    if arguments.song is not None:
        song = named_row("song", arguments.song, rig.songs)
        with _opened_port(chosen_port(arguments.port, _port_names())) as wire:
            return step_through(rig, song, wire, _line_typed)
    preset = named_row("preset", words[1], rig.presets)
    messages = preset_messages(rig, preset)
    if not messages:
        raise NotThereError(f"{preset.id} sends nothing: it has no midi in the file")
    with _opened_port(chosen_port(arguments.port, _port_names())) as wire:
        send(wire, messages)
    put(_sent(rig, preset, messages))
    return 0


def send(wire: Wire, messages: Iterable[Message]) -> None:
    """Send messages, one after another.

    Raises:
        PortError: the port does not take them, e.g. because it was unplugged.
    """
    import mido

    for message in messages:
        try:
            wire.send(mido.Message.from_bytes(message.octets))
        except Exception as error:  # each backend has errors of its own
            raise PortError(f"the port accepts nothing more: {error}") from None


def _sent(rig: Rig, preset: Preset, messages: Sequence[Message]) -> str:
    names = {device.id: device.label for device in rig.midi}
    show = terminal_of(sys.stdout).show
    lines = [f"  {names[message.device]}: {message.in_words()}" for message in messages]
    return "".join(f"{show(line)}\n" for line in [f"Sent {preset.label}", *lines])


def _line_typed(prompt: str) -> str | None:
    """Ask for a line; None at the end of input."""
    put(prompt)
    line = sys.stdin.readline() if sys.stdin else ""
    return line.strip() if line else None


Cues = list[tuple[int, "Preset", tuple[Message, ...]]]


def cues_of(rig: Rig, song: Song) -> Cues:
    """Return the sections of a song at which a preset comes in that sends something."""
    presets = {preset.id: preset for preset in rig.presets}
    cues: Cues = []
    recalled: Preset | None = None
    for at, section in enumerate(song.sections):
        preset = presets.get(section.preset or "")
        if preset is None or preset is recalled:
            continue
        recalled = preset
        messages = preset_messages(rig, preset)
        if messages:
            cues.append((at, preset, messages))
    return cues


def step_through(rig: Rig, song: Song, wire: Wire, ask: Callable[[str], str | None]) -> int:
    """Go through a song's cues by hand, and return the exit status.

    Args:
        rig: The rig.
        song: The song.
        wire: Where messages go.
        ask: Shows a prompt and returns what was typed; None where no more will come.
    """
    cues = cues_of(rig, song)
    show = terminal_of(sys.stdout).show
    if not cues:
        raise NotThereError(f"{song.id} sends nothing: none of its presets has midi in the file")
    put(show(f"{song.label}: {count(len(cues), 'cue')}. Enter sends, b goes back, q ends.") + "\n")
    at = 0
    while at < len(cues):
        section, preset, messages = cues[at]
        words = f"{at + 1}/{len(cues)} {song.sections[section].name}: {preset.label} > "
        typed = ask(show(words))
        if typed is None or typed.lower() in ("q", "quit"):
            break
        if typed.lower() in ("b", "back"):
            at = max(0, at - 1)
        elif typed:
            put("Enter sends, b goes back, q ends.\n")
        else:
            send(wire, messages)
            put(_sent(rig, preset, messages))
            at += 1
    return 0
