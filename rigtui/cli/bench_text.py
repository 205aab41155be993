"""What the lists of the bench share: rows as CSV, how a file of theirs begins."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from rigtui.sheets.svg import is_svg_file
from rigtui.store.importing.csv_songs import guarded


def csv_text(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Rows as CSV (RFC 4180, lines ended by a line feed); None is an empty field."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(head)
    writer.writerows(
        [
            "" if field is None else guarded(field) if isinstance(field, str) else field
            for field in row
        ]
        for row in rows
    )
    return out.getvalue()


def is_bench(head: bytes) -> bool:
    """Whether the first bytes of a file are those of such a list."""
    begins = (
        b"Patch leads: ", b"Cutting list: ", b"Labels: ", b'{"leads"', b'{"cuts"', b'{"labels"',
        b"lead,out,", b"from,", b"lead,label", "┌".encode(), "╔".encode(),
    )  # fmt: skip
    return is_svg_file(head) or head.lstrip().startswith(begins)
