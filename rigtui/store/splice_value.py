"""Edit the text of one TOML value: change what it says, and keep everything else.

Works on the value's own text alone and returns the new text; where the value stands in a file is
not known here. `old` must be what the text means.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from rigtui.store.align import align, likeness, same
from rigtui.store.array_lines import rearrange
from rigtui.store.toml_scan import COMMENT, STRING, items, pairs
from rigtui.store.toml_write import format_block, format_key, format_value, is_table_list

WIDE = 100  # columns; a list of tables that outgrows this gets a line for each
_COMMENT_LINE_OR_COMMENT = re.compile(
    rf"(?P<keep>{STRING})|(?:(?<=\n)|\A)[ \t]*{COMMENT}(?:\n|\Z)|[ \t]*#[^\r\n]*"
)


def without_comments(text: str) -> str:
    """Leave out all comments of TOML text, with the lines that hold nothing else."""
    return _COMMENT_LINE_OR_COMMENT.sub(lambda match: match["keep"] or "", text)


def edit_value(source: str, old: Any, new: Any, eol: str) -> str:
    """Return the text of a value, changed as little as possible to mean `new`."""
    if same(old, new):
        return source
    if isinstance(new, Mapping) and isinstance(old, Mapping) and source[0] == "{":
        return _edit_table(source, old, new, eol)
    if isinstance(new, list | tuple) and isinstance(old, list | tuple) and source[0] == "[":
        return _edit_array(source, old, new, eol)
    return format_value(new, source, eol)


def like_sibling(source: str, old: Any, new: Any, eol: str) -> str:
    """Write a new value in the manner of one beside it that means `old`, without its comments."""
    return edit_value(without_comments(source), old, new, eol)


def _edit_table(source: str, old: Mapping[str, Any], new: Mapping[str, Any], eol: str) -> str:
    entries = list(pairs(source, 1, len(source)))
    separators = [source[before.end : after.start] for before, after in pairwise(entries)]
    kept = [number for number, pair in enumerate(entries) if pair.keys[0] in new]
    if not kept or any(len(pair.keys) > 1 for pair in entries):
        return format_value(new)
    parts = [source[: entries[0].start]]
    for place, number in enumerate(kept):
        pair = entries[number]
        key = pair.keys[0]
        value = edit_value(source[pair.value : pair.end], old[key], new[key], eol)
        parts.append(separators[kept[place - 1]] if place else "")
        parts.append(source[pair.start : pair.value] + value)
    equals = source[pair.key_end : pair.value]
    separator = min(separators, key=len, default=", ")  # the longer ones line up columns
    for key in new:
        if key not in old:
            parts.append(separator + format_key(key) + equals + format_value(new[key]))
    return "".join(parts) + source[entries[-1].end :]


def _edit_array(source: str, old: Sequence[Any], new: Sequence[Any], eol: str) -> str:
    spans = list(items(source, 0))
    texts = [source[start:end] for start, end in spans]
    values: list[str] = []
    matches = align(old, new)
    for was, item in zip(matches, new, strict=True):
        if was is not None:
            values.append(edit_value(texts[was], old[was], item, eol))
        else:
            values.append(_new_item(texts, old, item, eol))
    if matches == list(range(len(old))):  # nothing came, went or moved
        return _fill(source, spans, values)
    edges = [1, *(edge for span in spans for edge in span), len(source) - 1]
    gaps = [source[start:end] for start, end in zip(edges[::2], edges[1::2], strict=True)]
    if any("\n" in gap for gap in gaps):
        return rearrange(gaps, values, matches, eol)
    flat = _flat(gaps, values)
    if is_table_list(new) and len(old) < 2 and (not old or len(flat) > WIDE):
        return format_block(new, eol)
    return flat


def _fill(source: str, spans: list[tuple[int, int]], values: list[str]) -> str:
    parts, at = [], 0
    for (start, end), value in zip(spans, values, strict=True):
        parts += [source[at:start], value]
        at = end
    return "".join(parts) + source[at:]


def _new_item(texts: list[str], old: Sequence[Any], new: Any, eol: str) -> str:
    """Write an item in the manner of the one that it resembles most."""
    if not texts:
        return format_value(new)
    scores = [(likeness(item, new), keys_in_common(item, new), -at) for at, item in enumerate(old)]
    best = scores.index(max(scores))
    donor = without_comments(texts[best])
    if "\n" in donor or type(old[best]) is not type(new):
        return format_value(new)
    return edit_value(donor, old[best], new, eol)


def keys_in_common(left: Any, right: Any) -> int:
    """How many keys two tables share, less those that only left has."""
    if not isinstance(left, Mapping) or not isinstance(right, Mapping):
        return 0
    return len(left.keys() & right.keys()) - len(left.keys() ^ right.keys())


def _flat(gaps: list[str], values: list[str]) -> str:
    """An array in one line: its own opening, separator and closing round the new items."""
    if len(gaps) == 1:
        return "[" + ", ".join(values) + "]"
    if not values:
        return "[]"
    separator = gaps[1] if len(gaps) > 2 else ", "
    return "[" + gaps[0] + separator.join(values) + gaps[-1] + "]"
