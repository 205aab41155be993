"""Wishes as they are typed: the options of a request, and what a way out changes of them."""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from rigtui.plan.request import Request


def options(request: Request) -> list[str]:
    """The wishes of a request, each as the option that asks for it."""
    said = [f"--pin {shlex.quote(f'{pedal}={where}')}" for pedal, where in request.pins.items()]
    said += [f"--keep {shlex.quote(preset)}" for preset in request.keep]
    said += [f"--apart {shlex.quote(','.join(pair))}" for pair in request.apart]
    said += [] if request.sharing else ["--no-sharing"]
    said += ["--keep-order"] if request.keep_order else []
    if request.loops is not None:
        said.append(f"--loops {request.loops['front']},{request.loops['fx']}")
    if request.total_loops is not None:
        said.append(f"--loops {request.total_loops}")
    if request.memories is not None:
        said.append(f"--memories {request.memories}")
    said += [
        f"--pin-switch {shlex.quote(f'{preset}={memory}')}"
        for preset, memory in request.pin_switch.items()
    ]
    return said + ([f"--copies {request.copies}"] if request.copies else [])


def relaxed(request: Request, changes: Mapping[str, Any]) -> Request:
    """A request with the changes of a way out."""
    known = dict(changes)
    if "keep" in known:
        known["keep"] = tuple(known["keep"])
    if "apart" in known:
        known["apart"] = tuple((one, other) for one, other in known["apart"])
    return replace(request, **known)


def typed(request: Request, changes: Mapping[str, Any]) -> str:
    """What to type for a way out: "--memories 9", "without --pin wah=in"; "" for nothing."""
    if not changes:
        return ""
    old, new = options(request), options(relaxed(request, changes))
    more = [one for one in new if one not in old]
    raised = {one.split()[0] for one in more}
    gone = [f"without {one}" for one in old if one not in new and one.split()[0] not in raised]
    return ", ".join([" ".join(more), *gone] if more else gone)
