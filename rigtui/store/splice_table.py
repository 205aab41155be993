"""Edit the tables of a file in place: keys come, change and go; rows come, move and go.

Works on spans of the text, and only in the tables that differ. Comments at the ends of lines and
between tables are never looked at here: segments.py has said where they belong.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from rigtui.store.align import align, likeness, same, staying
from rigtui.store.segments import Segment
from rigtui.store.splice_value import edit_value, keys_in_common, like_sibling, without_comments
from rigtui.store.table_tree import TableTree, TomlTable, has_header, inner_pairs, tell
from rigtui.store.toml_scan import Pair, line_end, line_start
from rigtui.store.toml_write import format_block, format_key, format_table, is_table_list


class TableEditor(TableTree):
    """The text of one file with its tables, and what is to become of them."""

    def edit(self, table: TomlTable, old: Mapping[str, Any], new: Mapping[str, Any]) -> None:
        """Make a table that means `old` mean `new`."""
        self.scan(table)
        for key in old:
            if key not in new:
                self.remove(table, key)
            elif not same(old[key], new[key]):
                self._change(table, key, old[key], new[key])
        for key in new:
            if key not in old:
                self.add(table, key, new[key])

    # Changing and removing

    def _change(self, table: TomlTable, key: str, old: Any, new: Any) -> None:
        pair, child = table.pairs.get(key), table.children.get(key)
        if pair is not None and not (table is self.root and old == [] and is_table_list(new)):
            source = self.text[pair.value : pair.end]
            edit = (pair.value, pair.end, edit_value(source, old, new, self.eol))
            self.home(table).edits.append(edit)
        elif isinstance(child, list) and is_table_list(new):
            self._edit_rows(table, key, child, old, new)
        elif (
            isinstance(child, TomlTable) and isinstance(new, Mapping) and (new or has_header(child))
        ):
            self.edit(child, old, new)
        else:
            self.remove(table, key)
            self.add(table, key, new)

    def remove(self, table: TomlTable, key: str) -> None:
        """Take a key out, with its line or with all its tables."""
        self.scan(table)
        pair, child = table.pairs.get(key), table.children.pop(key, None)
        if pair is not None:
            lines = (line_start(self.text, pair.start), line_end(self.text, pair.end), "")
            self.home(table).edits.append(lines)
        for row in child if isinstance(child, list) else [child] if child else []:
            if row.prefix:  # it has no header to go with: its pairs go one by one
                for inner in [*row.pairs, *row.children]:
                    self.remove(row, inner)
            for segment in self.pieces(row):
                segment.gone = True

    # Adding

    def add(self, table: TomlTable, key: str, value: Any) -> None:
        """Put a key in that is not there, after the table's last one or as a table of its own."""
        if table is self.root and (isinstance(value, Mapping) or is_table_list(value)):
            self._append_tables(key, value)
        elif is_table_list(value) and (rows := self._rows_beside(table, key)):
            fresh = [self._fresh_row(rows, [row.meant for row in rows], item) for item in value]
            apart = [
                row.segment is not None and row.segment.stands_apart(self.text) for row in rows
            ]
            for number, segment in enumerate(fresh):
                if any(apart) if number else apart[0]:
                    segment.fresh = self.eol + segment.fresh
            at = self.order.index(self.placed_pieces(table)[-1]) + 1
            self.order[at:at] = fresh
            keys = (*table.keys, key)
            table.children[key] = [TomlTable(keys, segment) for segment in fresh]
        else:
            self._add_pair(table, key, value)

    def _append_tables(self, key: str, value: Any) -> None:
        rows = [value] if isinstance(value, Mapping) else value
        for row in rows:
            text = self.eol + format_table((key,), row, row is not value, self.eol)
            self.order.insert(self.end(), Segment(fresh=text))

    def _add_pair(self, table: TomlTable, key: str, value: Any) -> None:
        segment = self.home(table)
        text = self._text_like_kin(table, key, value)
        spelled = ".".join(map(format_key, (*table.prefix, key)))
        if segment.block is None:
            segment.fresh += f"{spelled} = {text}{self.eol}"
            return
        last = self._last_pair(table, beside_rows=is_table_list(value))
        if last is None:
            at = segment.end if table is self.root else line_end(self.text, segment.block.body)
            indent, equals = "", " = "
        else:
            at = line_end(self.text, last.end)
            indent = self.text[line_start(self.text, last.start) : last.start]
            equals = self._equals_like(table, last, spelled)
        segment.edits.append((at, at, f"{indent}{spelled}{equals}{text}{self.eol}"))

    def _equals_like(self, table: TomlTable, last: Pair, spelled: str) -> str:
        """The sign between key and value, in its column where the table lines them up."""
        signs = [self.text[pair.key_end : pair.value] for pair in table.pairs.values()]
        sign = self.text[last.key_end : last.value]
        if all(len(sign.split("=")[0]) < 2 for sign in signs):
            return sign
        column = last.key_end - last.start + sign.index("=")
        return " " * max(1, column - len(spelled)) + sign.lstrip()

    def _last_pair(self, table: TomlTable, beside_rows: bool) -> Pair | None:
        """The pair after which a new key goes: the last, but not below the rows of a song."""
        own = sorted(table.pairs.values() or inner_pairs(table), key=lambda pair: pair.start)
        plain = list(own)
        while plain and not beside_rows and self._holds_rows(plain[-1]):
            plain.pop()
        return (plain or own)[-1] if own else None

    def _holds_rows(self, pair: Pair) -> bool:
        return without_comments(self.text[pair.value : pair.end])[1:].lstrip().startswith("{")

    def _text_like_kin(self, table: TomlTable, key: str, value: Any) -> str:
        """A value written as the other rows write theirs."""
        if isinstance(value, Mapping | list | tuple):
            for row in table.kin:
                self.scan(row)
                pair = row.pairs.get(key)
                if pair is not None and key in row.meant:
                    source = self.text[pair.value : pair.end]
                    return like_sibling(source, row.meant[key], value, self.eol)
        return format_block(value, self.eol)

    # Rows

    def _edit_rows(
        self,
        parent: TomlTable,
        key: str,
        rows: list[TomlTable],
        old: Sequence[Any],
        new: Sequence[Any],
    ) -> None:
        tell(rows, old)
        apart = any(row.segment and row.segment.stands_apart(self.text) for row in rows)
        matches = align(old, new)
        result: list[TomlTable] = []
        for was, item in zip(matches, new, strict=True):
            if was is None:
                result.append(TomlTable(rows[0].keys, self._fresh_row(rows, old, item)))
            else:
                if not same(old[was], item):
                    self.edit(rows[was], old[was], item)
                result.append(rows[was])
        for row in set(rows) - set(result):
            for segment in self.pieces(row):
                segment.gone = True
        parent.children[key] = result
        if matches != list(range(len(old))):
            self._arrange(rows, result, staying(matches), apart)

    def _arrange(
        self, rows: list[TomlTable], result: list[TomlTable], steady: set[int], apart: bool
    ) -> None:
        """Put the pieces of rows in order, moving as few as possible."""
        place = {segment: at for at, segment in enumerate(self.order)}
        front = self.placed_pieces(result[min(steady)] if steady else rows[0])[0]
        before: Segment | None = None
        for position, row in enumerate(result):
            pieces = sorted(self.pieces(row), key=lambda piece: place.get(piece, 0))
            if position not in steady:
                moving = set(pieces)
                self.order = [piece for piece in self.order if piece not in moving]
                at = self.order.index(front) if before is None else self.order.index(before) + 1
                self.order[at:at] = pieces
            displaced = position not in steady or (position > 0 and row is rows[0])
            if apart and displaced and not pieces[0].stands_apart(self.text):
                pieces[0].fresh = self.eol + pieces[0].fresh
            before = pieces[-1]

    def _rows_beside(self, table: TomlTable, key: str) -> list[TomlTable]:
        """Rows of the same name in the other rows, where those have headers of their own."""
        for row in table.kin:
            rows = row.children.get(key)
            if isinstance(rows, list) and (written := [kept for kept in rows if kept.meant]):
                return written
        return []

    def _fresh_row(
        self, rows: Sequence[TomlTable], old: Sequence[Any], new: Mapping[str, Any]
    ) -> Segment:
        """Write a row in the manner of the one that it resembles most, without its comments."""
        scores = [
            (keys_in_common(item, new), likeness(item, new), at) for at, item in enumerate(old)
        ]
        model = scores.index(max(scores))
        # The text as it was, whatever has become of it since.
        home = rows[model].segment
        assert home is not None
        assert home.block is not None
        path = home.block.path
        inside = (
            piece
            for piece in self.order
            if piece is not home and piece.block and piece.block.path[: len(path)] == path
        )
        source = self.text[line_start(self.text, home.block.start) : home.end] + "".join(
            self.text[piece.start : piece.end]
            for piece in sorted(inside, key=lambda piece: piece.start)
        )
        copy = TableEditor(without_comments(source), self.eol)
        copy.edit(copy.first(rows[model].keys), old[model], new)
        return Segment(fresh=copy.render())
