"""What the lists of the bench share: lengths in words, rows as CSV, how a file of theirs begins."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from rigtui.model.text import number_text
from rigtui.store.importing.csv_songs import guarded


def mm(length: float) -> str:
    """A length in words: "185 mm", "185.5 mm"."""
    return f"{number_text(length)} mm"


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
    begins = (b"Patch leads: ", b"Cutting list: ", b'{"leads"', b'{"cuts"', b"lead,out,", b"from,")
    return head.startswith(begins)
