"""The board: the signal, and everything it is made of."""
