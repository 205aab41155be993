"""A MIDI backend that keeps what is sent: mido loads it by name from MIDO_BACKEND.

Source: mido's documentation, "Writing a New or Custom Backend": a module with get_devices() and an
Output class.
"""

from __future__ import annotations

from typing import Any

from mido.ports import BaseOutput

PORTS = ["Desk USB 1", "Desk USB 2", "Loop \x1b[31mback"]
SENT: list[tuple[str, list[int]]] = []
"""Name of the port and bytes, in the order in which they came."""
FAULTS: list[Exception] = []
"""Raised by the next send, if there is one."""


def get_devices(**options: Any) -> list[dict[str, Any]]:
    """The ports there are."""
    return [{"name": name, "is_input": False, "is_output": True} for name in PORTS]


class Output(BaseOutput):
    """An output port."""

    def _open(self, **options: Any) -> None:
        if self.name not in PORTS:
            raise OSError(f"unknown port {self.name}")

    def _send(self, message: Any) -> None:
        if FAULTS:
            raise FAULTS.pop()
        SENT.append((self.name, message.bytes()))
