"""Reading and writing rig files. The only part of the program that touches files."""
