"""The board: what stands where in the signal, and everything that it is made of."""
