"""A planner that says what it was given to say: `fake_planner.py HOW LINES_FILE`.

HOW is "at-once" (all lines), "when-stopped" (the last line only after a line that says stop),
"deaf" (never the last line) or "broken" (no last line, and a bad exit).
"""

from __future__ import annotations

import sys
import time

how, path = sys.argv[1:]
with open(path, encoding="ascii") as file:
    *before, last = file.read().splitlines()
sys.stdin.readline()
for line in before:
    print(line, flush=True)
if how == "broken":
    sys.exit(3)
if how == "deaf":
    time.sleep(600)
if how == "when-stopped":
    while sys.stdin.readline().strip() != "stop":
        pass
print(last, flush=True)
