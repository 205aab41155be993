"""What all tables of a rig share: frozen, strict, and no unknown keys."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal, TypeVar, get_args

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    Strict,
    ValidatorFunctionWrapHandler,
    WrapValidator,
)
from pydantic_core import PydanticCustomError

from rigtui.model.meter import is_meter
from rigtui.model.sheet_kinds import SHEET_KINDS

Side = Literal["front", "fx"]
SIDES: tuple[Side, ...] = get_args(Side)
Kind = Literal[
    "tuner", "volume", "wah", "compressor", "pitch", "fuzz", "overdrive", "distortion", "boost",
    "gate", "eq", "modulation", "tremolo", "delay", "reverb", "looper", "buffer", "preamp", "other",
]  # fmt: skip
Role = Literal["clean", "rhythm", "high-gain", "lead", "ambient", "other"]
Use = Literal["foot", "treadle", "always", "between", "home"]
BY_FOOT: tuple[Use, ...] = ("foot", "treadle")
"""Uses with which the player chooses in each section whether a pedal is on."""
HandKey = Literal["guitar_volume", "pickup", "hands"]
BankButtons = Literal["up-down", "up", "none"]
SendLevel = Literal["instrument", "line"]
ChannelSwitch = Literal["preset", "foot"]
if TYPE_CHECKING:
    SheetKind = str
else:
    SheetKind = Literal[tuple(SHEET_KINDS)]

MAX_NAME = 200
MAX_NOTE = 20_000
FAR = 9999
"""The highest number that is taken for a loop's or a memory's, though no board has so many."""
SLOWEST = 0.001
"""Beats per minute; a tempo is more than 0, and a little more than that."""


def _fraction(text: Any) -> Any:
    """Check a note value or meter such as "6/8": whole numbers, the lower a power of two."""
    if not isinstance(text, str):
        raise PydanticCustomError("fraction", 'must be text such as "4/4"')
    upper, slash, lower = text.partition("/")
    if not (slash and text.isascii() and upper.isdigit() and lower.isdigit()):
        raise PydanticCustomError("fraction", 'must be two whole numbers with a slash, e.g. "4/4"')
    if not is_meter(int(upper[:9]), int(lower[:9])):
        raise PydanticCustomError(
            "fraction",
            "must have 1 to 64 above the slash and 1, 2, 4, 8, 16, 32 or 64 below it",
        )
    return text


def _chain_item(item: Any) -> Any:
    """A chain holds pedal ids (text) and loop numbers (whole numbers), nothing else."""
    whole = isinstance(item, int) and not isinstance(item, bool) and abs(item) <= FAR
    if not whole and not (isinstance(item, str) and len(item) <= MAX_NAME):
        raise PydanticCustomError("chain_item", "must be a pedal's id in quotes or a loop's number")
    return item


def _loop_number(item: Any) -> Any:
    """A number that may name a loop; whether it does is for the checks to find."""
    if isinstance(item, bool) or not isinstance(item, int) or abs(item) > FAR:
        raise PydanticCustomError("loop_number", "must be a loop's number")
    return item


def _playable(tempo: float) -> float:
    """Keep a section's length within what a floating-point number can say."""
    if tempo < SLOWEST:
        raise PydanticCustomError("too_slow", f"is too slow to play: use {SLOWEST} or more")
    return tempo


def _list(value: Any, validate: ValidatorFunctionWrapHandler) -> Any:
    """Check a list, and give back the very same tuple where it came through unchanged.

    Counts and findings are remembered by identity: an edit of one song must leave the list of
    pedals the same object, not an equal one.
    """
    if not isinstance(value, list | tuple):
        raise PydanticCustomError("list_type", "must be a list in square brackets")
    rows = validate(value)
    if isinstance(value, tuple) and all(a is b for a, b in zip(value, rows)):
        return value
    return rows


Text = Annotated[str, Strict(), Field(max_length=MAX_NAME)]
Note = Annotated[str, Strict(), Field(max_length=MAX_NOTE)]
Id = Annotated[str, Strict(), Field(pattern=r"^[a-z0-9][a-z0-9-]*$", max_length=32)]
Whole = Annotated[int, Strict()]
Flag = Annotated[bool, Strict()]
Number = Annotated[float, Strict(), Field(allow_inf_nan=False)]
Tempo = Annotated[Number, Field(gt=0, le=1000), AfterValidator(_playable)]
LoopNumber = Annotated[Whole, BeforeValidator(_loop_number)]
_METER = r"^0{0,6}([1-9]|[1-5]\d|6[0-4])/0{0,6}(1|2|4|8|16|32|64)$"
"""What `_fraction` takes, for those who have only the schema."""
Meter = Annotated[
    str,
    BeforeValidator(_fraction),
    Field(json_schema_extra={"pattern": _METER}),
]
ChainItem = Annotated[
    int | str,
    BeforeValidator(_chain_item),
    Field(
        json_schema_extra={
            "anyOf": [{"type": "string", "maxLength": MAX_NAME}, {"type": "integer"}]
        }
    ),
]

T = TypeVar("T")
Many = Annotated[tuple[T, ...], WrapValidator(_list)]


class RigTable(BaseModel):
    """A table of the rig file: a value that is never changed, only replaced."""

    model_config = ConfigDict(frozen=True, extra="forbid", hide_input_in_errors=True)
